//! The rules of the grammar in a baker's words; a new rule does not compile until it has some.

use super::grammar::Rule;

/// Names what a rule reads, without an article.
#[expect(clippy::too_many_lines, reason = "a table of all rules")]
pub(crate) fn of(rule: Rule) -> &'static str {
    match rule {
        Rule::line_tail | Rule::change_tail => "quantity with its thing",
        Rule::step_tail | Rule::change_step => "time with what is done in it",
        Rule::measurement_line => "measurement",
        Rule::property_line => "property of an ingredient",
        Rule::header_line => "header of a block",
        Rule::number | Rule::signed | Rule::vulgar | Rule::fold_count | Rule::number_value => "number",
        Rule::quantity | Rule::quantity_value => "quantity",
        Rule::percent | Rule::share | Rule::percent_value => "percentage",
        Rule::weight | Rule::weight_value => "weight",
        Rule::volume | Rule::volume_value => "volume",
        Rule::length | Rule::time | Rule::timing | Rule::time_value => "time",
        Rule::degrees | Rule::temperature_value => "temperature",
        Rule::length_value | Rule::across | Rule::sides => "length",
        Rule::tin_value => "tin",
        Rule::makes_value => "number of pieces",
        Rule::part_unit
        | Rule::weight_unit
        | Rule::volume_unit
        | Rule::time_unit
        | Rule::degree_unit
        | Rule::scale
        | Rule::length_unit => "unit",
        Rule::dash | Rule::range | Rule::narrower | Rule::cross => "sign between two numbers",
        Rule::overnight => "`overnight`",
        Rule::then => "`then`",
        Rule::all => "`all`",
        Rule::some => "`some`",
        Rule::place | Rule::known_place | Rule::fridge | Rule::place_end => "place",
        Rule::name
        | Rule::change_name
        | Rule::known
        | Rule::old_name
        | Rule::after_verb
        | Rule::header_name
        | Rule::header_run => "name",
        Rule::hydration => "hydration",
        Rule::at | Rule::step_at | Rule::step_in | Rule::step_to => "temperature",
        Rule::as_known => "known ingredient",
        Rule::preparation | Rule::change_preparation => "preparation",
        Rule::instead_of => "`instead of`",
        Rule::after | Rule::step_after => "`after`",
        Rule::clause | Rule::change | Rule::opening | Rule::at_end | Rule::piece | Rule::word => "word",
        Rule::folds => "number of folds",
        Rule::hands => "`hands-on` or `hands-off`",
        Rule::until | Rule::core_cue | Rule::dough_cue | Rule::grown_cue | Rule::doubled => "cue",
        Rule::like => "`like` with a name",
        Rule::also => "`also` with a name",
        Rule::contains | Rule::allergen => "allergen",
        Rule::counts | Rule::no_flour | Rule::flour => "`counts as flour`",
        Rule::wet => "`wet`",
        Rule::dry => "`dry`",
        Rule::energy => "energy in kcal",
        Rule::each => "weight of one",
        Rule::per_volume => "weight of a measure",
        Rule::price | Rule::currency => "price",
        Rule::absorption | Rule::gain => "absorption",
        Rule::nutrient => "share of a nutrient",
        Rule::kind | Rule::odd_kind => "kind of block",
        Rule::share_of_flour
        | Rule::sized
        | Rule::on_each
        | Rule::to_keep
        | Rule::qualifier
        | Rule::odd_qualifier => "size of a block",
        Rule::rest => "text",
        Rule::lid => "`lidded` or `open`",
        Rule::round => "`round`",
        Rule::per_gram => "`ml per g`",
        Rule::dozen => "`dozen`",
        Rule::piece_word | Rule::piece_run => "word for the pieces",
        Rule::baked => "`baked`",
        Rule::sp | Rule::stop | Rule::mark => "end of a word",
        Rule::slip_range | Rule::slip_number | Rule::slip_weight => "amount",
    }
}

/// Shows what a value looks like.
pub(crate) fn example(rule: Rule) -> &'static str {
    match rule {
        Rule::number_value => "write a number, as in `14` or `1 1/2`",
        Rule::percent_value => "write a percentage, as in `12 %`",
        Rule::weight_value => "write a weight, as in `500 g` or `1 lb 4 oz`",
        Rule::volume_value => "write a volume, as in `1.5 l` or `2 cups`",
        Rule::time_value => "write a time, as in `45 min`, `10-14 h` or `4 days`",
        Rule::temperature_value => "write a temperature, as in `24 C`, `75-80 F` or `fridge`",
        Rule::length_value => "write a length, as in `20 cm` or `8 1/2 in`",
        Rule::quantity_value => "write a quantity, as in `68 %`, `340 g` or `2 parts`",
        Rule::tin_value => {
            "write length x width x height, as in `lidded 20 x 10 x 10 cm`, `round` with diameter x height, \
             top / base x height, or a volume"
        }
        Rule::makes_value => {
            "write how many of what, as in `2 loaves of 650 g`, `4 dozen rolls of 60 g` or `1 batch`"
        }
        _ => "look at the language reference",
    }
}
