//! Sheet to view: what one card shows, in words and settled numbers.
//!
//! Owns every decision on what stands on a card, how a number is written and which words say it. Knows
//! nothing of HTML but for the structure that notes in Markdown come as, and nothing of templates: a view
//! is plain data that a template prints. The sheet as a document for programs stands beside the card.

mod answers;
mod bench;
mod card;
mod cautions;
pub mod changes;
pub mod document;
mod facts;
mod formula;
mod index;
mod markdown;
mod numbers;
mod paper;
mod setting;
mod steps;
mod table;
mod timeline;
mod variations;
mod verbs;
mod weights;
mod word_list;
mod words;

pub use answers::{Answer, AnswerTable};
pub use bench::{BenchSheet, Labels, bench_sheet};
pub use card::{Card, CardOptions, card};
pub use cautions::{AllergenNote, CautionNote, Cautions};
pub use facts::{Fact, Foot, Head};
pub use formula::{Cell, Formula, List, ListLine};
pub use index::{Index, IndexRow};
pub use markdown::{Refusal, refusals};
pub use numbers::Numbers;
pub use paper::Paper;
pub use steps::{Group, Input, Method, StepView};
pub use table::{Column, Row, Table};
pub use timeline::{Label, Lane, Legend, TimeLine};
pub use variations::{RecordView, Records, VariationRow, VariationView, Variations};
pub use word_list::Word;
pub use words::{ALL as LANGUAGES, Words};
