//! The same table for the cautions that were whole but for a word.

use super::{BAKED, SALTED, at_the_oven, before, bread, graver, silent, speaks, stage, steps, with};

#[test]
fn c02_claims_that_are_made_and_such_that_are_not() {
    let said = |head: &str| format!("{head}\n{}", with("20 g butter"));
    graver("C02", [said("tags: für Zöliakie geeignet")]);
    silent("C02", [said("about:\n  Without butter it would be vegan.\n")]);
}

#[test]
fn c03_and_c04_a_refrigerator_is_a_fridge_and_cold_is_not_said() {
    let rested = |words: &str| {
        let steps = format!("10 min mix | 12 h {words} | 30 min bake at 190 C");
        bread("", &format!("{SALTED} | 50 g egg"), &steps, "")
    };
    silent(
        "C03",
        [rested("leave in the refrigerator"), rested("leave in the fridge")],
    );
    graver("C03", [rested("leave in the cold")]);
    speaks(
        "C04",
        [
            rested("leave in the refrigerator"),
            rested("leave in the cold"),
            rested("bulk in the cellar"),
        ],
    );
    silent(
        "C04",
        [rested("leave in the fridge"), rested("bulk with cold water")],
    );
}

#[test]
fn c08_oil_that_takes_on_a_taste_in_any_language() {
    let oil = |step: &str| {
        before(
            "brush with oil",
            &format!("topping oil: 30 g olive oil | 5 g garlic | 1 h {step}"),
        )
    };
    speaks("C08", [oil("infuse"), oil("ziehen lassen")]);
    silent("C08", [oil("leave")]);
}

#[test]
fn c10_lye_by_its_formula_and_lye_that_is_not_there() {
    let dipped = |words: &str| steps(&format!("10 min mix | 1 min dip {words} | 20 min bake at 220 C"));
    graver("C10", [dipped("in lye"), dipped("in the Laugenbad")]);
    speaks("C10", [with("5 g NaOH")]);
    silent("C10", [dipped("without lye"), dipped("in baked soda, no lye")]);
}

#[test]
fn c12_hot_things_that_are_used_and_such_that_are_not() {
    let baked = |words: &str| steps(&format!("10 min mix | 40 min bake at 240 C {words}"));
    speaks(
        "C12",
        [
            baked("in a Römertopf"),
            baked("in a hot skillet"),
            baked("on the BBQ"),
            baked("on baking paper"),
        ],
    );
    silent(
        "C12",
        [
            baked("without a pot"),
            baked("with no baking paper"),
            baked("and brush with BBQ sauce"),
        ],
    );
}

#[test]
fn c17_bean_flours_that_the_table_does_not_have() {
    speaks("C17", [with("10 g black bean flour"), with("10 g Bohnenmehl")]);
    silent(
        "C17",
        [
            with("10 g toasted pinto bean flour"),
            with("10 g soya bean flour"),
        ],
    );
}

#[test]
fn c18_a_culture_that_ripens_for_days_or_is_fed_daily() {
    let sponge = |time: &str| {
        stage(&format!(
            "sponge: 100 g rye flour | 100 g water | {time} ripen at 24 C"
        ))
    };
    speaks(
        "C18",
        [
            sponge("2 days"),
            steps("10 min mix | / Feed daily. | 40 min bake at 220 C"),
        ],
    );
    silent("C18", [sponge("16 h")]);
}

#[test]
fn c20_a_delay_however_it_is_called() {
    let machine = |prose: &str| {
        let text = bread("", &format!("{SALTED} | 50 g egg"), BAKED, "");
        format!("{text}\nnotes:\n  {prose}\n")
    };
    speaks(
        "C20",
        [
            machine("Set the timer to start at six."),
            machine("In the bread machine with a delay of 8 h."),
        ],
    );
    silent(
        "C20",
        [
            machine("Do not use the delay timer."),
            machine("The delayed salt does no harm."),
        ],
    );
}

#[test]
fn c21_bread_that_is_sealed_in_jars_once_it_is_baked() {
    let then = |words: &str| steps(&format!("10 min mix | 40 min bake at 180 C | {words}"));
    speaks(
        "C21",
        [
            then("then seal in jars"),
            then("1 h cool | / Close the jars while hot."),
            at_the_oven("Im Glas."),
        ],
    );
    silent(
        "C21",
        [
            then("1 h cool | / Keep in a jar."),
            steps("10 min mix | 2 h leave in a jar | / Close the jar. | 40 min bake at 180 C"),
        ],
    );
}
