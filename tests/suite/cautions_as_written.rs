//! Food cautions in the words that bakers use: a table of recipes, each with the caution that it calls for or with the
//! near miss that must stay silent.

mod others;

use crate::computed::compute;

/// What a caution does on a card.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Says {
    /// Nothing.
    Nothing,
    /// It speaks.
    Speaks,
    /// It speaks in its graver words.
    Graver,
}

/// A dough with lines ahead of the salt and steps of its own, and what stands around it.
fn bread(ahead: &str, lines: &str, steps: &str, tail: &str) -> String {
    let indented = |text: &str| -> String {
        let lines = text.split('|').map(str::trim).filter(|line| !line.is_empty());
        lines.map(|line| format!("  {line}\n")).collect()
    };
    // A part is written `topping: line | line`, several of them apart by `||`.
    let parts = |text: &str| -> String {
        let parts = text.split("||").map(str::trim).filter(|part| !part.is_empty());
        parts
            .map(|part| {
                let (head, lines) = part.split_once(':').unwrap();
                format!("{head}:\n{}\n", indented(lines))
            })
            .collect()
    };
    let text = format!(
        "title: Test\nmakes: 1 loaf\n\n{}dough:\n  500 g bread flour\n  300 g water\n{}{}\n{}",
        parts(ahead),
        indented(lines),
        indented(steps),
        parts(tail),
    );
    text.replace("  / ", "    ")
}

const SALTED: &str = "10 g salt | 5 g instant yeast";
const BAKED: &str = "10 min mix | 90 min proof at 24 C | 40 min bake at 220 C until core 94 C";

/// A plain bread with some more lines.
fn with(lines: &str) -> String {
    bread("", &format!("{SALTED} | {lines}"), BAKED, "")
}

/// A plain bread with steps of its own; `/` begins prose below a step.
fn steps(steps: &str) -> String {
    bread("", SALTED, steps, "")
}

/// A bread with a stage ahead of it.
fn stage(stage: &str) -> String {
    let name = stage.split(':').next().unwrap();
    bread(stage, &format!("{SALTED} | all {name}"), BAKED, "")
}

/// A bread that something is put in or on, before or after the bake.
fn before(verb: &str, tail: &str) -> String {
    let steps = format!("10 min mix | 90 min proof at 24 C | 5 min {verb} | 30 min bake at 190 C");
    bread("", SALTED, &steps, tail)
}

fn after(verb: &str, tail: &str) -> String {
    let steps = format!("10 min mix | 90 min proof at 24 C | 30 min bake at 190 C | 1 h cool | 5 min {verb}");
    bread("", SALTED, &steps, tail)
}

#[track_caller]
fn hold<const N: usize>(id: &str, wanted: Says, cases: [String; N]) {
    let mut wrong = Vec::new();
    for text in cases {
        let computed = compute(&text);
        let cautions = &computed.sheet().cautions;
        let mut found = cautions.iter().filter(|caution| caution.id == id).peekable();
        let says = if found.peek().is_none() {
            Says::Nothing
        } else if found.any(|caution| caution.graver) {
            Says::Graver
        } else {
            Says::Speaks
        };
        if says != wanted {
            wrong.push(format!("{id}: {says:?}, not {wanted:?}\n{text}"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[track_caller]
fn silent<const N: usize>(id: &str, cases: [String; N]) {
    hold(id, Says::Nothing, cases);
}

#[track_caller]
fn speaks<const N: usize>(id: &str, cases: [String; N]) {
    hold(id, Says::Speaks, cases);
}

#[track_caller]
fn graver<const N: usize>(id: &str, cases: [String; N]) {
    hold(id, Says::Graver, cases);
}

/// A soaker of seeds with water written in some way, and the prose below its step.
fn soaked(water: &str, prose: &str) -> String {
    let prose = if prose.is_empty() {
        String::new()
    } else {
        format!(" | / {prose}")
    };
    stage(&format!("soaker: 100 g flax seeds | {water} | 4 h soak{prose}"))
}

/// A bread with prose below its bake.
fn at_the_oven(prose: &str) -> String {
    steps(&format!("10 min mix | 40 min bake at 230 C | / {prose}"))
}

#[test]
fn c11_hot_water_however_it_is_written() {
    speaks(
        "C11",
        [
            soaked("200 g boiling water", ""),
            soaked("200 g hot water", ""),
            soaked("200 g freshly boiled water", ""),
            soaked("200 g whole milk | 5 min heat until steaming", ""),
            soaked("200 g water, boiling", ""),
            soaked("200 g kochendes Wasser", ""),
            soaked("200 g eau bouillante", ""),
            soaked("200 g water", "Pour the boiling water over."),
            soaked("200 g water | / Straight from the kettle.", ""),
            stage("sponge: 100 g bread flour | 200 g water | 5 min cook to 65 C | 1 h leave"),
            stage("sponge: 100 g bread flour | 200 g whole milk | 5 min cook until thick | 1 h leave"),
        ],
    );
    silent(
        "C11",
        [
            soaked("200 g warm water", ""),
            soaked("200 g water, hot, cooled first", ""),
            soaked("200 g hot water at 40 C", ""),
            soaked("200 g water", "No boiling water, it would set."),
            stage("soaker: 100 g butter | 100 g sugar | 5 min melt | 1 h leave"),
            steps("10 min mix | 5 min cook on a griddle"),
        ],
    );
}

#[test]
fn c11_water_and_ice_into_a_hot_oven() {
    speaks(
        "C11",
        [
            at_the_oven("Throw a handful of ice on the oven floor."),
            at_the_oven("Pour a cup of water into the tray below."),
            at_the_oven("Have a tray of water on the lowest shelf."),
            at_the_oven("Set a pan with a little water under the stone."),
            at_the_oven("Wasser auf das heiße Blech gießen."),
            at_the_oven("Verser un peu d'eau dans la lèchefrite."),
            at_the_oven("Not on the floor; steam for ten minutes."),
            at_the_oven("Do not let the steam out."),
            at_the_oven("Mist the oven."),
            steps("10 min mix | then throw ice in the tray | 40 min bake at 230 C"),
        ],
    );
    silent(
        "C11",
        [
            steps("10 min mix | 40 min bake at 230 C without steam"),
            steps("10 min mix | 20 min bake at 230 C | 20 min without steam"),
            at_the_oven("No steam here."),
            at_the_oven("There is no need for any steam."),
            at_the_oven("Brush with water and put into the oven."),
            at_the_oven("Cool, then ice the top."),
            steps("10 min mix | 2 h leave | / Set a pan of water beside it. | 40 min bake at 230 C"),
        ],
    );
}

#[test]
fn c05_only_what_heats_the_flour_counts() {
    let biscuit = |steps: &str| {
        format!(
            "title: Test\nmakes: 1 batch\n\ndough:\n  100 g butter\n  100 g sugar\n  5 min cook\n  200 g plain flour\n  2 g salt\n{steps}"
        )
    };
    let cream = "filling: 200 g whole milk | 30 g plain flour | 5 min cook | 1 h cool";
    let raw = "filling: 200 g cream cheese | 30 g plain flour | 5 min whisk";
    let scald = "scald: 30 g rye flour | 90 g water at 90 C | 1 h leave";
    graver(
        "C05",
        [
            biscuit("  10 min mix\n  1 h chill\n"),
            biscuit("  10 min mix\n  then preheat to 200 C\n  1 h chill\n"),
            after("fill", raw),
            bread(
                scald,
                &format!("{SALTED} | all scald"),
                "10 min mix | 1 h chill",
                "",
            ),
            steps("10 min mix | / Try a bit of the dough. | 40 min bake at 220 C"),
        ],
    );
    speaks(
        "C05",
        [
            biscuit("  10 min mix\n  15 min bake at 170 C\n"),
            biscuit("  10 min mix\n  5 min fry\n"),
            biscuit("  10 min mix\n  5 min brown in a hot pan\n"),
            after("fill", cream),
            before("fill", raw),
            bread("", &format!("{SALTED} | some rye flour, for dusting"), BAKED, ""),
            steps("10 min mix | 40 min bake at 220 C | / The bread tastes best on the next day."),
        ],
    );
}

#[test]
fn c09_honey_under_any_name() {
    let brushed = |words: &str| steps(&format!("{BAKED} | then brush with {words}"));
    speaks(
        "C09",
        [
            with("10 g lavender honey"),
            with("10 g honeycomb"),
            with("10 g honey powder"),
            with("10 g Honig"),
            with("10 g Lavendelhonig"),
            with("10 g miel de sapin"),
            with("10 g oats, toasted in honey"),
            with("10 g butter | / With a little honey in it."),
            brushed("honey"),
            brushed("butter, no sugar, and honey"),
            steps(&format!(
                "{BAKED} | 5 min glaze | / A spoon of honey in warm water."
            )),
        ],
    );
    silent(
        "C09",
        [
            with("10 g honeydew melon"),
            with("10 g granola without honey"),
            with("10 g syrup, instead of honey"),
            with("10 g Honigmelone"),
            brushed("syrup and no honey"),
            steps("10 min mix | 40 min bake at 220 C until honey-coloured"),
        ],
    );
    speaks("C02", [format!("tags: vegan\n{}", with("10 g lavender honey"))]);
}

#[test]
fn c06_what_lies_on_top_or_goes_in_after_the_bake() {
    let topped = |meat: &str| {
        let steps = "10 min mix | 30 min bake at 220 C";
        bread("", SALTED, steps, &format!("topping: 100 g {meat}"))
    };
    let twice = |filling: &str| {
        let steps = "10 min mix | 15 min bake at 190 C | 5 min fill | 25 min bake at 160 C";
        bread("", SALTED, steps, &format!("filling: {filling}"))
    };
    let icing = "topping icing: 60 g egg white | 250 g icing sugar | 5 min whisk";
    let meringue = "filling: 100 g egg white | 100 g sugar | 5 min whisk";
    let bar = |egg: &str| {
        format!(
            "title: Test\nmakes: 1 batch\n\ndough:\n  200 g plain flour\n  100 g sugar\n  50 g {egg}\n  10 min mix\n  1 h chill\n"
        )
    };
    speaks(
        "C06",
        [
            topped("sausage"),
            topped("minced beef"),
            before("fill", meringue),
            twice("100 g minced beef"),
        ],
    );
    graver(
        "C06",
        [
            after("brush with icing", icing),
            after("fill", meringue),
            after("fill", "filling: 100 g minced beef"),
            bar("egg"),
        ],
    );
    silent(
        "C06",
        [
            bread("", SALTED, BAKED, "topping: 100 g sausage"),
            topped("salami"),
            topped("cooked ham"),
            before("brush with icing", icing),
            after("brush with icing", &icing.replace("egg white", "pasteurised egg")),
            after("fill", &meringue.replace("whisk", "whisk to 74 C")),
            after("fill", "filling: 100 g ham"),
            after(
                "fill",
                "filling: 300 g whole milk | 2 eggs | 5 min cook | 1 h cool",
            ),
            bar("water"),
        ],
    );
    // What goes in after the bake is not told to be baked.
    let computed = compute(&after("fill", meringue));
    let found = computed.sheet().cautions.iter();
    let found = found.filter(|caution| caution.id == "C06");
    assert_eq!(found.map(|caution| caution.graver).collect::<Vec<_>>(), [true]);
}

#[test]
fn c07_a_custard_that_is_baked_in_needs_the_cold_too() {
    let almonds = "filling: 100 g ground almonds | 50 g sugar";
    let wash = "topping egg wash: 1 egg | 20 g whole milk";
    speaks(
        "C07",
        [
            before(
                "fill",
                "filling: 300 g whole milk | 3 eggs | 50 g sugar | 5 min whisk",
            ),
            after(
                "fill",
                "filling: 300 g whole milk | 3 eggs | 5 min cook | 1 h cool",
            ),
        ],
    );
    silent(
        "C07",
        [
            before("fill", &format!("{almonds} | 2 eggs | 5 min whisk")),
            before("fill", &format!("{almonds} | 50 g whole milk | 5 min whisk")),
            before("brush with egg wash", wash),
            bread("", SALTED, BAKED, wash),
        ],
    );
}

#[test]
fn c16_much_cassia() {
    speaks(
        "C16",
        [
            with("15 g cassia"),
            with("15 g cinnamon"),
            with("15 g Saigon cinnamon"),
            with("15 g Zimt"),
            before("fill", "filling: 100 g butter | 15 g cinnamon"),
        ],
    );
    silent(
        "C16",
        [
            with("3 g cinnamon"),
            with("15 g Ceylon cinnamon"),
            with("15 g Ceylon-Zimt"),
            with("some cinnamon"),
        ],
    );
}

#[test]
fn c13_salt_that_nobody_has_weighed_is_not_little() {
    let salted = |salt: &str| bread("", &format!("{salt} | 5 g instant yeast"), BAKED, "");
    silent("C13", [salted("some salt"), salted("2 g salt | some flaky salt")]);
    speaks(
        "C13",
        [
            salted("15 g salt | some flaky salt"),
            salted("2 g salt"),
            salted("20 g sugar"),
        ],
    );
    for (salt, unusual) in [("some salt", 0), ("2 g salt", 1)] {
        let computed = compute(&salted(salt));
        let hints = computed.faults(loafwright::diag::Code::UnusualFigure);
        assert_eq!(hints.len(), unusual, "{salt}: {hints:?}");
        let known = computed.sheet().figures.salt.is_some();
        assert_eq!(
            known,
            unusual == 1,
            "{salt}: the figure is not nought, it is not known"
        );
    }
}
