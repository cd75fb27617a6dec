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
mod live;
mod markdown;
mod numbers;
mod paper;
mod pieces;
mod reader;
mod setting;
mod steps;
mod structured;
mod table;
mod timeline;
mod titles;
mod variations;
mod verbs;
mod warmth;
mod weights;
mod word_list;
mod words;

pub use answers::{Answer, AnswerTable};
pub use bench::{BenchSheet, Labels, bench_sheet};
pub use card::{Card, CardOptions, Picture, card, direction, is_language_tag, papers, picture};
pub use cautions::{AllergenNote, CautionNote, Cautions, MoreAllergens};
pub use facts::{Fact, Foot, Head};
pub use formula::{Cell, Formula, List, ListLine};
pub use index::{Index, IndexRow};
pub use live::{Run, is_live, runs};
pub use markdown::{Refusal, refusals};
pub use numbers::Numbers;
pub use paper::{Layout, Paper};
pub use reader::{Amounts, Around, Choices, Link, Readable, Reader, Version, reader};
pub use steps::{Group, Input, Method, StepView};
pub use structured::StructuredRecipe;
pub use table::{Column, Row, Table};
pub use timeline::{Label, Lane, Legend, TimeLine};
pub use titles::shortened;
pub use variations::{RecordView, Records, VariationRow, VariationView, Variations};
pub use word_list::Word;
pub use words::{ALL as LANGUAGES, Words};
