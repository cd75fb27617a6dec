//! The rules of the grammar in a baker's words.

use super::grammar::Rule;

/// Names what a rule reads, without an article.
pub(crate) fn of(rule: Rule) -> &'static str {
    match rule {
        Rule::line_tail
        | Rule::change_tail
        | Rule::name
        | Rule::change_name
        | Rule::known
        | Rule::old_name => "ingredient or stage",
        Rule::step_tail | Rule::change_step => "step",
        Rule::measurement_line => "measurement",
        Rule::property_line
        | Rule::nutrient
        | Rule::counts
        | Rule::energy
        | Rule::each
        | Rule::per_volume
        | Rule::price
        | Rule::absorption
        | Rule::like
        | Rule::also
        | Rule::contains => "property of an ingredient",
        Rule::header_line | Rule::kind | Rule::odd_kind => "header of a block",
        Rule::share_of_flour | Rule::sized | Rule::qualifier | Rule::odd_qualifier => "size of a block",
        Rule::number | Rule::signed | Rule::vulgar | Rule::fold_count | Rule::gain | Rule::number_value => {
            "number"
        }
        Rule::quantity | Rule::quantity_value => "quantity",
        Rule::percent | Rule::share | Rule::percent_value => "percentage",
        Rule::weight | Rule::weight_value => "weight",
        Rule::volume | Rule::volume_value => "volume",
        Rule::length | Rule::time | Rule::timing | Rule::time_value => "time",
        Rule::degrees
        | Rule::temperature_value
        | Rule::at
        | Rule::step_at
        | Rule::step_in
        | Rule::step_to => "temperature",
        Rule::across | Rule::sides | Rule::length_value => "length",
        Rule::tin_value => "tin",
        Rule::makes_value => "number of pieces",
        Rule::part_unit
        | Rule::weight_unit
        | Rule::volume_unit
        | Rule::time_unit
        | Rule::degree_unit
        | Rule::scale
        | Rule::length_unit => "unit",
        Rule::place | Rule::known_place | Rule::fridge => "place",
        Rule::hydration => "hydration",
        Rule::folds => "number of folds",
        Rule::until | Rule::core_cue | Rule::dough_cue | Rule::grown_cue | Rule::doubled => "cue",
        Rule::dash | Rule::stroke | Rule::range | Rule::narrower | Rule::cross => "sign between two numbers",
        // What is left are words and the parts of words.
        _ => "word that fits",
    }
}
