//! The faults of a variation: what it names is not there, or is there twice.

use super::Scene;
use super::edits::Editor;
use super::locate::{Search, Spot};
use crate::diag::{Code, Diagnostic, nearest, nearest_name};
use crate::model::recipe::BlockId;
use crate::model::verbs::{VERBS, Verb};
use crate::source::Spanned;

/// Nothing of a name in the blocks that were searched.
pub(super) fn nothing(editor: &Editor<'_, '_>, name: &Spanned<String>) -> Diagnostic {
    let search = editor.search();
    let place = place(editor, &search);
    let fault = Diagnostic::new(
        Code::VariationMisses,
        name.span,
        format!("there is no {} in {place}", name.value),
    );
    let near = if editor.scene.near.may_search() {
        let known: Vec<&str> = search.names(editor.scene);
        nearest_name(&name.value, &known)
    } else {
        None
    };
    match near {
        Some(near) => {
            fault
                .help(format!("did you mean `{near}`?"))
                .fix(format!("write `{near}`"), name.span, near)
        }
        None => fault.help("a variation changes what stands in the recipe"),
    }
}

/// No step with a verb in the blocks that were searched.
pub(super) fn no_step(editor: &Editor<'_, '_>, verb: &Spanned<String>) -> Diagnostic {
    let search = editor.search();
    let place = place(editor, &search);
    let word = &verb.value;
    if Verb::of(word).is_none() {
        let fault = Diagnostic::new(
            Code::VariationMisses,
            verb.span,
            format!("`{word}` is no verb of a step"),
        );
        return match nearest(word, VERBS.iter().map(|verb| verb.word)) {
            Some(near) => fault.help(format!("did you mean `{near}`?")),
            None => fault.help("write the verb of the step alone, as in `after knead`"),
        };
    }
    let fault = Diagnostic::new(
        Code::VariationMisses,
        verb.span,
        format!("no step in {place} says `{word}`"),
    );
    let verbs = if editor.scene.near.may_search() {
        search.verbs()
    } else {
        Vec::new()
    };
    if verbs.is_empty() {
        fault.help("name a verb of the recipe's steps, or say `in STAGE` above it")
    } else {
        fault.help(format!("the steps there say {}", verbs.join(", ")))
    }
}

/// A step without a verb, so that it replaces none.
pub(super) fn no_verb(text: &Spanned<String>) -> Diagnostic {
    Diagnostic::new(
        Code::VariationMisses,
        text.span,
        "without a verb of the trade this step replaces none",
    )
    .help("begin it with the verb of the step that it replaces, or write `after VERB` behind it")
}

/// A name that stands on several lines.
pub(super) fn unsure(scene: &Scene<'_>, name: &Spanned<String>, found: &[Spot]) -> Diagnostic {
    let fault = Diagnostic::new(
        Code::VariationUnsure,
        name.span,
        format!("{} stands on {} lines", name.value, found.len()),
    );
    let fault = found.iter().fold(fault, |fault, spot| {
        fault.other(spot.span, format!("in {}", scene.names.title(spot.block)))
    });
    let first = found.first().map(|spot| spot.block);
    match found.iter().find(|spot| Some(spot.block) != first) {
        Some(spot) => fault.help(format!(
            "say which: write `in {}` above it",
            scene.names.title(spot.block)
        )),
        None => {
            fault.help("a variation cannot tell two lines of one block apart; give one of them another name")
        }
    }
}

/// A block that `in` names, and that is not there.
pub(super) fn no_block(scene: &Scene<'_>, name: &Spanned<String>) -> Diagnostic {
    let word = &name.value;
    let fault = Diagnostic::new(
        Code::VariationMisses,
        name.span,
        format!("there is no block `{word}` in this recipe"),
    );
    match nearest(word, scene.names.titles()) {
        Some(near) => {
            fault
                .help(format!("did you mean `in {near}`?"))
                .fix(format!("write `{near}`"), name.span, near)
        }
        None => fault.help(format!(
            "the blocks are {}",
            scene.names.titles().collect::<Vec<_>>().join(", ")
        )),
    }
}

/// A name behind `in` that several blocks answer to.
pub(super) fn unsure_block(scene: &Scene<'_>, name: &Spanned<String>, ids: &[BlockId]) -> Diagnostic {
    let fault = Diagnostic::new(
        Code::VariationUnsure,
        name.span,
        format!("`{}` may mean {} blocks", name.value, ids.len()),
    )
    .help("write the whole name of the one");
    ids.iter().fold(fault, |fault, id| match scene.names.header(*id) {
        Some(header) => fault.other(header, "one of them"),
        None => fault,
    })
}

/// Names where a search was made: the one block, or the recipe.
fn place(editor: &Editor<'_, '_>, search: &Search<'_, '_>) -> String {
    let only = match search.tiers {
        [tier] => tier.first(),
        _ => None,
    };
    only.map_or_else(
        || "this recipe".to_owned(),
        |id| format!("the {}", editor.scene.names.title(*id)),
    )
}
