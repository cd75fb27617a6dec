//! Faults as plain data: what is wrong, where, and how to mend it.
//!
//! Owns the shape of a fault, its codes and their severities. The sentence of a fault stands beside the
//! check that raises it, and how it looks in a terminal, an editor or JSON is the business of `render`.

mod code;
mod explain;
mod report;
mod suggest;

pub use code::{Code, Severity};
pub use explain::{explanation, sections};
pub use report::Report;
pub use suggest::{holds, nearest, nearest_name};

use crate::source::Span;

/// One fault, ready to be shown anywhere.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Diagnostic {
    /// What kind of fault it is.
    pub code: Code,
    /// How grave it is; the code's own severity unless raised by the place that reports it.
    pub severity: Severity,
    /// One phrase in a baker's words, without a final stop.
    pub message: String,
    /// The place that the phrase is about, with why this spot.
    pub primary: Label,
    /// Other places that have a part in it, in the order of their weight.
    pub others: Vec<Label>,
    /// What to write instead or to do, as a sentence without a final stop.
    pub help: Option<String>,
    /// The mend as an edit, where one is sure.
    pub fix: Option<Fix>,
}

/// A place and what to say of it there.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Label {
    /// The place.
    pub span: Span,
    /// A few words; may be empty where the message says it all.
    pub text: String,
}

/// A mend that a program can carry out.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fix {
    /// What it does, in a few words.
    pub title: String,
    /// The span to replace; empty for an insertion.
    pub span: Span,
    /// The text that takes its place.
    pub text: String,
}

impl Diagnostic {
    /// Makes a fault of a code, the place it is about and its sentence.
    #[must_use]
    pub fn new(code: Code, span: Span, message: impl Into<String>) -> Self {
        Self {
            code,
            severity: code.severity(),
            message: message.into(),
            primary: Label {
                span,
                text: String::new(),
            },
            others: Vec::new(),
            help: None,
            fix: None,
        }
    }

    /// Says why this spot.
    #[must_use]
    pub fn label(mut self, text: impl Into<String>) -> Self {
        self.primary.text = text.into();
        self
    }

    /// Points at another place that has a part in it.
    #[must_use]
    pub fn other(mut self, span: Span, text: impl Into<String>) -> Self {
        self.others.push(Label {
            span,
            text: text.into(),
        });
        self
    }

    /// Says that a fault was found in a variation, whose block and header are given.
    ///
    /// A line of the plain recipe, where nothing is wrong with it, is not blamed alone: a place in the variation
    /// comes first where there is one, and the header is shown where there is none.
    #[must_use]
    pub fn in_variation(mut self, name: &str, block: Span, header: Span) -> Self {
        let is_inside = |label: &Label| block.covers(label.span);
        if is_inside(&self.primary) {
            return self;
        }
        self.message = format!("in variation {name}, {}", self.message);
        match self.others.iter_mut().find(|label| is_inside(label)) {
            Some(own) => std::mem::swap(own, &mut self.primary),
            None => self = self.other(header, "in this variation"),
        }
        self
    }

    /// Says what to do.
    #[must_use]
    pub fn help(mut self, text: impl Into<String>) -> Self {
        self.help = Some(text.into());
        self
    }

    /// Offers the mend as an edit.
    #[must_use]
    pub fn fix(mut self, title: impl Into<String>, span: Span, text: impl Into<String>) -> Self {
        self.fix = Some(Fix {
            title: title.into(),
            span,
            text: text.into(),
        });
        self
    }
}
