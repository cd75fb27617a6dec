//! Warmth and time in words: the facts of a card, the remarks at its steps, and the working that a terminal
//! shows. Owns the rounding: whole degrees, whole grams. What is estimated is said to be.

use super::facts::{Fact, fact_with};
use super::setting::{Setting, capitalised};
use super::verbs::verb_or_words;
use super::word_list::Word;
use crate::model::recipe::{BlockId, Record};
use crate::quantity::{Grams, Ratio};
use crate::sheet::{
    Advice, DoneSort, Doneness, HOTTEST_WATER, NoEstimate, PlacedStep, ScaldHeat, Starch, Tempered,
    TimedStep, Timing, WarmFrom, WarmPart, WaterPlan, work_back,
};

/// Lists what follows from the room and the height: how long it takes, and when the bread is done.
pub(super) fn view_room_facts(setting: &Setting<'_>) -> [Option<Fact>; 2] {
    let warmth = &setting.sheet.warmth;
    let room = warmth.timing.as_ref().map(|timing| {
        let degrees = setting.numbers.degrees(timing.room);
        let note = [("room", setting.numbers.degrees(timing.written_for))];
        fact_with(
            setting,
            Word::InRoom,
            degrees,
            fill(setting, Word::InRoomNote, &note),
        )
    });
    let pieces = &setting.sheet.pieces;
    let done = warmth.done.as_ref().filter(|done| done.is_told(pieces));
    let done = done.map(|done| {
        let range = setting.numbers.degrees_range(done.lowest(), done.highest());
        let note = if done.boiling < done.usual.1 + 1.0 {
            fill(
                setting,
                Word::CoreNote,
                &[("boiling", setting.numbers.degrees(done.boiling))],
            )
        } else {
            String::new()
        };
        fact_with(setting, Word::CoreDone, range, note)
    });
    [room, done]
}

/// Says how warm the liquid has to be; nothing where no dough temperature is wanted.
pub(super) fn view_water(setting: &Setting<'_>) -> Option<Fact> {
    let plan = setting.sheet.warmth.water.as_ref()?;
    Some(water_fact(setting, plan))
}

fn water_fact(setting: &Setting<'_>, plan: &WaterPlan) -> Fact {
    let note = match plan.balance.advice {
        Advice::TooHot => setting.words.get(Word::ReachHotNote).to_owned(),
        Advice::TooCold => setting.words.get(Word::ReachColdNote).to_owned(),
        Advice::Temper | Advice::Ice(_) => {
            let three = ("three", by_rule(setting, &plan.three_factor));
            match &plan.four_factor {
                Some(four) => fill(
                    setting,
                    Word::ReachNoteFour,
                    &[three, ("four", by_rule(setting, four))],
                ),
                None => fill(setting, Word::ReachNote, &[three]),
            }
        }
    };
    fact_with(setting, Word::ReachIt, need(setting, plan), note)
}

/// Says what a rule of the trade comes to: no water that is bad for yeast is given as its answer, nor any that
/// there is not.
fn by_rule(setting: &Setting<'_>, tempered: &Tempered) -> String {
    match tempered.advice {
        Advice::TooHot => {
            let limit = setting.numbers.degrees(HOTTEST_WATER);
            fill(setting, Word::RuleHot, &[("limit", limit)])
        }
        Advice::TooCold => setting.words.get(Word::RuleCold).to_owned(),
        Advice::Ice(grams) if tempered.celsius < 0.0 => {
            fill(setting, Word::RuleIce, &[("ice", grams_about(setting, grams))])
        }
        Advice::Temper | Advice::Ice(_) => setting.numbers.degrees(tempered.celsius),
    }
}

/// Says what the liquid has to be.
fn need(setting: &Setting<'_>, plan: &WaterPlan) -> String {
    let liquid = ("liquid", plan.liquid.clone());
    match plan.balance.advice {
        Advice::Temper => {
            let temperature = setting.numbers.degrees(plan.balance.celsius);
            fill(
                setting,
                Word::ReachTemper,
                &[liquid, ("temperature", temperature)],
            )
        }
        Advice::Ice(grams) => fill(
            setting,
            Word::ReachIce,
            &[
                liquid,
                ("ice", grams_about(setting, grams)),
                ("tap", setting.numbers.degrees(plan.tap)),
            ],
        ),
        Advice::TooHot => fill(setting, Word::ReachHot, &[liquid]),
        Advice::TooCold => fill(setting, Word::ReachCold, &[liquid]),
    }
}

/// Shows the working, a sentence a line.
pub(super) fn view_working(setting: &Setting<'_>) -> Vec<String> {
    let warmth = &setting.sheet.warmth;
    let mut lines = Vec::new();
    if let Some(plan) = &warmth.water {
        water_working(setting, plan, &mut lines);
    }
    lines.extend(warmth.scalds.iter().map(|scald| scald_words(setting, scald)));
    if let Some(done) = &warmth.done {
        lines.push(done_words(setting, done));
        let pieces = &setting.sheet.pieces;
        let word = if pieces.bake_loss_assumed {
            Word::LossAssumed
        } else {
            Word::LossSaid
        };
        lines.push(fill(
            setting,
            word,
            &[("loss", setting.numbers.share(&pieces.bake_loss))],
        ));
    }
    if let Some(timing) = &warmth.timing {
        lines.extend(timing.steps.iter().map(|step| timed_words(setting, timing, step)));
    }
    if let Some(timing) = &warmth.leaven {
        let share = format!("{}\u{a0}%", setting.numbers.about(timing.leaven * 100.0, 1));
        lines.push(fill(setting, Word::LeavenAsked, &[("share", share)]));
        lines.extend(timing.steps.iter().map(|step| timed_words(setting, timing, step)));
    }
    lines
}

fn water_working(setting: &Setting<'_>, plan: &WaterPlan, lines: &mut Vec<String>) {
    let numbers = setting.numbers;
    lines.push(fill(
        setting,
        Word::WaterWorking,
        &[
            ("liquid", capitalised(&plan.liquid)),
            ("weight", grams_about(setting, plan.liquid_grams)),
            ("need", water_fact(setting, plan).value),
        ],
    ));
    match plan.balance.advice {
        Advice::Ice(grams) => {
            let ice = grams_about(setting, grams);
            let tap = numbers.degrees(plan.tap);
            lines.push(fill(setting, Word::WaterIce, &[("ice", ice), ("tap", tap)]));
        }
        Advice::TooHot | Advice::TooCold => {
            lines.push(format!("{}.", capitalised(&water_fact(setting, plan).note)));
        }
        Advice::Temper => {}
    }
    let friction = &plan.friction;
    let word = if friction.assumed {
        Word::WaterFrictionAssumed
    } else {
        Word::WaterFriction
    };
    lines.push(fill(
        setting,
        word,
        &[
            ("way", friction.way.clone()),
            ("rise", numbers.degrees_apart(friction.rise)),
            ("factor", numbers.degrees_apart(friction.factor)),
        ],
    ));
    let parts: Vec<String> = plan.parts.iter().map(|part| part_words(setting, part)).collect();
    lines.push(fill(
        setting,
        Word::WaterParts,
        &[("parts", setting.words.list(&parts))],
    ));
    let rule = |tempered: &Tempered| by_rule(setting, tempered);
    let (three, two) = (
        ("three", rule(&plan.three_factor)),
        ("two", rule(&plan.two_factor)),
    );
    lines.push(match &plan.four_factor {
        Some(four) => fill(setting, Word::WaterRules, &[three, ("four", rule(four)), two]),
        None => fill(setting, Word::WaterRulesThree, &[three, two]),
    });
    if let Some(stated) = plan.stated {
        let stated = numbers.degrees(stated);
        lines.push(fill(setting, Word::WaterStated, &[("temperature", stated)]));
    }
}

fn part_words(setting: &Setting<'_>, part: &WarmPart) -> String {
    let from = match part.from {
        WarmFrom::Stated => None,
        WarmFrom::Words => Some(Word::WarmFromWords),
        WarmFrom::Stage => Some(Word::WarmFromStage),
        WarmFrom::Room => Some(Word::WarmFromRoom),
        WarmFrom::Fridge => Some(Word::WarmFromFridge),
        WarmFrom::Ice => Some(Word::WarmFromIce),
    };
    let from = from.map_or_else(String::new, |word| format!(" ({})", setting.words.get(word)));
    let weight = grams_about(setting, part.grams);
    let degrees = format!("{}\u{a0}°C", setting.numbers.about(part.celsius, 0));
    let at = fill(setting, Word::AtDegrees, &[("degrees", degrees)]);
    format!("{weight} {} {at}{from}", part.name)
}

/// Says what a scald comes to.
fn scald_words(setting: &Setting<'_>, scald: &ScaldHeat) -> String {
    let word = match scald.starch {
        Starch::Swells => Word::ScaldSwells,
        Starch::Partly => Word::ScaldPartly,
        Starch::Raw => Word::ScaldRaw,
    };
    let reached = scald.heated.map_or(scald.mixed, |heated| heated.max(scald.mixed));
    let block = setting.block(scald.block);
    let title = block.map_or_else(|| capitalised(&scald.title), |block| setting.title(block));
    fill(
        setting,
        word,
        &[
            ("scald", title),
            ("temperature", setting.numbers.degrees(reached)),
            (
                "range",
                setting.numbers.degrees_range(scald.swells.0, scald.swells.1),
            ),
        ],
    )
}

/// Gives the remark on a block that is a scald.
pub(super) fn scald_remark(setting: &Setting<'_>, id: BlockId) -> Option<String> {
    let mut scalds = setting.sheet.warmth.scalds.iter();
    let scald = scalds.find(|scald| scald.block == id)?;
    Some(scald_words(setting, scald))
}

fn done_words(setting: &Setting<'_>, done: &Doneness) -> String {
    let word = match done.sort {
        DoneSort::Lean => Word::DoneLean,
        DoneSort::Enriched => Word::DoneEnriched,
        DoneSort::Rye => Word::DoneRye,
    };
    fill(
        setting,
        word,
        &[
            (
                "range",
                setting.numbers.degrees_range(done.lowest(), done.highest()),
            ),
            ("boiling", setting.numbers.degrees(done.boiling)),
            ("cool", setting.numbers.lengths(done.cool)),
        ],
    )
}

fn timed_words(setting: &Setting<'_>, timing: &Timing, timed: &TimedStep) -> String {
    let block = setting.block(timed.block);
    let title = block.map_or_else(String::new, |block| setting.title(block).to_lowercase());
    let mut gaps = vec![
        ("step", capitalised(verb_or_words(setting.words, &timed.words))),
        ("block", title),
        ("written", setting.numbers.lengths(timed.written)),
        ("room", setting.numbers.degrees(timing.room)),
    ];
    let word = match &timed.estimate {
        Ok(estimate) => {
            gaps.push(("time", setting.numbers.lengths(estimate.takes)));
            gaps.push(("begins", setting.numbers.degrees(estimate.begins.1)));
            gaps.push(("ends", setting.numbers.degrees(estimate.ends.1)));
            Word::TimedWorking
        }
        Err(NoEstimate::NoLeaven) => Word::TimedNoLeaven,
        Err(NoEstimate::OutsideSource(low, high)) => {
            let range = setting.numbers.degrees_range(*low, *high);
            gaps.push(("range", range));
            Word::TimedOutside
        }
        Err(NoEstimate::TooLong) => Word::TimedTooLong,
        Err(NoEstimate::AtOnce) => Word::TimedAtOnce,
    };
    fill(setting, word, &gaps)
}

/// Says of a step that hangs on the room that its time is an estimate, or that there is none.
pub(super) fn estimate(setting: &Setting<'_>, id: BlockId, placed: &PlacedStep) -> String {
    let timing = setting.sheet.warmth.timing.as_ref();
    let timed = timing.and_then(|timing| {
        let mut steps = timing.steps.iter();
        steps.find(|timed| timed.block == id && timed.step == placed.index)
    });
    match timed.map(|timed| (&timed.estimate, timed.written)) {
        Some((Ok(_), written)) => {
            let written = setting.numbers.lengths(written);
            fill(setting, Word::Timed, &[("written", written)])
        }
        Some((Err(_), _)) => setting.words.get(Word::NotTimed).to_owned(),
        None => String::new(),
    }
}

/// Says what a bench record shows when it is worked back.
pub(super) fn record_findings(setting: &Setting<'_>, record: &Record) -> Vec<String> {
    let found = work_back(setting.recipe, setting.sheet, record);
    let numbers = setting.numbers;
    let friction = found.friction.zip(found.rise).map(|(factor, rise)| {
        let factor = ("factor", numbers.degrees_apart(factor));
        let rise = ("rise", numbers.degrees_apart(rise));
        fill(setting, Word::WorkedBackFriction, &[factor, rise])
    });
    let loss = found.bake_loss.map(|share| {
        let share = format!("{}\u{a0}%", numbers.about(share * 100.0, 1));
        fill(setting, Word::WorkedBackLoss, &[("share", share)])
    });
    friction.into_iter().chain(loss).collect()
}

fn fill(setting: &Setting<'_>, word: Word, gaps: &[(&str, String)]) -> String {
    let gaps: Vec<(&str, &str)> = gaps.iter().map(|(gap, text)| (*gap, text.as_str())).collect();
    setting.words.fill(word, &gaps)
}

/// Writes a weight of physics in the first unit, with as many digits as a reader has use for.
fn grams_about(setting: &Setting<'_>, grams: f64) -> String {
    #[expect(clippy::cast_possible_truncation, reason = "it is clamped to what fits")]
    let millionths = (grams * 1e6).round().clamp(0.0, 9e18) as i64;
    let exact = Ratio::fraction(millionths, 1_000_000).unwrap_or_default();
    setting.numbers.weight_about(setting.first_unit(), &Grams(exact))
}
