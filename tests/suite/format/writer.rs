//! Random recipes as careless bakers type them: valid, every line with a mark of its own.
//!
//! A mark is a word that stands in one line only, `m17`; the order of the marks is the order of everything
//! on the page, so that a lost, doubled or moved line shows.

use std::fmt::Write as _;

use super::words;

/// Random choices, one byte each, so that a failing page can be made smaller; past the end all are nought.
pub(crate) struct Tape<'t> {
    bytes: &'t [u8],
    at: usize,
}

impl<'t> Tape<'t> {
    pub(crate) fn new(bytes: &'t [u8]) -> Self {
        Self { bytes, at: 0 }
    }

    fn below(&mut self, limit: usize) -> usize {
        let byte = self.bytes.get(self.at).copied().unwrap_or_default();
        self.at += 1;
        usize::from(byte) % limit
    }

    fn one_in(&mut self, odds: usize) -> bool {
        self.below(odds) == odds - 1
    }

    fn pick(&mut self, choices: &'static str) -> &'static str {
        let count = choices.split('¦').count();
        let number = self.below(count);
        choices.split('¦').nth(number).unwrap_or_default()
    }
}

/// A page that is being written.
struct Page<'t> {
    tape: Tape<'t>,
    lines: Vec<String>,
    marks: usize,
    indent: &'static str,
    is_sized: bool,
}

/// Writes a recipe.
pub(crate) fn recipe(tape: Tape<'_>) -> String {
    let mut page = Page::new(tape);
    page.keys();
    let stages = page.stages();
    page.dough(&stages);
    page.extras();
    page.finished()
}

/// Writes a bakehouse file.
pub(crate) fn bakehouse(tape: Tape<'_>) -> String {
    let mut page = Page::new(tape);
    page.key("bakehouse", "Oxlip Row");
    page.some_keys(words::HOUSE_KEYS);
    for name in ["lane rye", "hedge jam", "Mill White"] {
        if page.tape.one_in(2) {
            page.ingredient(name);
        }
    }
    page.finished()
}

impl<'t> Page<'t> {
    fn new(mut tape: Tape<'t>) -> Self {
        Self {
            indent: tape.pick("  ¦    ¦ ¦\t¦   ¦\t\t"),
            is_sized: tape.one_in(2),
            tape,
            lines: Vec::new(),
            marks: 0,
        }
    }

    fn mark(&mut self) -> String {
        self.marks += 1;
        format!("m{}", self.marks)
    }

    /// Puts blank lines and remarks between two entries.
    fn between(&mut self) {
        while self.tape.one_in(6) {
            let line = match self.tape.below(4) {
                0 => String::new(),
                1 => "   \t".to_owned(),
                2 => self.remark(),
                _ => [self.indent, &self.remark()].concat(),
            };
            self.lines.push(line);
        }
    }

    /// Puts blank lines and remarks between two lines of the first column.
    fn between_keys(&mut self) {
        while self.tape.one_in(5) {
            let line = if self.tape.one_in(2) {
                self.remark()
            } else {
                String::new()
            };
            self.lines.push(line);
        }
    }

    fn remark(&mut self) -> String {
        let (mark, text) = (self.mark(), self.tape.pick(words::REMARKS));
        format!("{}{mark} {text}", self.tape.pick("# ¦#¦#  ¦#! "))
    }

    /// Gives what stands behind a line: a remark now and then, or a space too many.
    fn trailing(&mut self) -> String {
        if !self.tape.one_in(5) {
            return self.tape.pick("¦¦¦ ¦\t").to_owned();
        }
        let (mark, text) = (self.mark(), self.tape.pick(words::REMARKS));
        format!("{}# {mark} {text}", self.tape.pick(" ¦   ¦\t"))
    }

    fn key(&mut self, key: &str, value: &str) {
        self.between_keys();
        let gap = self.tape.pick(" ¦  ¦¦\t");
        let key = if self.tape.one_in(8) {
            key.to_uppercase()
        } else {
            key.to_owned()
        };
        let trailing = self.trailing();
        self.lines.push(format!("{key}:{gap}{value}{trailing}"));
    }

    fn some_keys(&mut self, keys: &[(&str, &'static str)]) {
        for (key, values) in keys {
            if self.tape.one_in(4) {
                let value = self.tape.pick(values);
                self.key(key, value);
            }
        }
    }

    fn keys(&mut self) {
        let mark = self.mark();
        self.key("title", &format!("Loaf {mark} no #2"));
        if self.is_sized {
            let makes = self.tape.pick(words::SIZED_PIECES);
            self.key("makes", makes);
        } else {
            self.some_keys(&[("makes", words::PIECES), ("tin", words::TINS)]);
        }
        self.some_keys(words::KEYS);
    }

    fn header(&mut self, head: &str) {
        self.between_keys();
        let trailing = self.trailing();
        self.lines.push(format!("{head}:{trailing}"));
    }

    /// An entry with the prose below it.
    fn entry(&mut self, text: &str) {
        self.between();
        let trailing = self.trailing();
        self.lines.push(format!("{}{text}{trailing}", self.indent));
        if self.tape.one_in(4) {
            self.prose(&self.indent.repeat(2));
        }
    }

    fn prose(&mut self, indent: &str) {
        for number in 0..=self.tape.below(4) {
            if number > 0 && self.tape.one_in(4) {
                let odd = if self.tape.one_in(2) {
                    self.remark()
                } else {
                    String::new()
                };
                self.lines.push(odd);
            }
            let deeper = if number > 0 {
                self.tape.pick("¦¦  ¦\t")
            } else {
                ""
            };
            let (text, mark) = (self.tape.pick(words::PROSE), self.mark());
            self.lines.push(format!("{indent}{deeper}{text} {mark}"));
        }
    }

    fn line(&mut self, quantity: &str, thing: &str) {
        let (mark, gap) = (self.mark(), self.tape.pick(" ¦  ¦      ¦\t"));
        let mut text = format!("{quantity}{gap}{thing}");
        if thing == "starter" && self.tape.one_in(2) {
            text.push_str(self.tape.pick(" hydration 80 %¦ at 125% hydration"));
        }
        if self.tape.one_in(5) {
            let _ = write!(
                text,
                "{}at {}{}",
                self.tape.pick(" ¦  "),
                self.tape.pick(words::WARMTHS),
                self.tape.pick("¦  ")
            );
        }
        if thing.contains("powder") && self.tape.one_in(2) {
            text.push_str(" as malt  flour");
        }
        let comma = self.tape.pick(", ¦,¦ , ");
        let _ = write!(
            text,
            "{comma}cut {} {mark}",
            self.tape.pick("fine¦in 2 cm cubes¦5g each, or so")
        );
        self.entry(&text);
    }

    fn step(&mut self) {
        let (time, verb) = (self.tape.pick(words::TIMES), self.tape.pick(words::VERBS));
        let (mark, gap) = (self.mark(), self.tape.pick(" ¦  ¦      ¦\t"));
        let mut text = format!("{time}{gap}{verb} {mark}");
        if self.tape.one_in(3) {
            let _ = write!(
                text,
                " {} {}",
                self.tape.pick("at¦At"),
                self.tape.pick(words::DEGREES)
            );
        } else if self.tape.one_in(4) {
            text.push_str(
                self.tape
                    .pick(" in the fridge¦ at room¦ at  room temperature¦ In the Fridge"),
            );
        }
        if self.tape.one_in(6) {
            let _ = write!(text, " to {}", self.tape.pick("35 C¦95°F¦room"));
        }
        if self.tape.one_in(6) {
            let every = " with 2 folds every 45 min¦ with 1 fold¦ With 3  folds every 1 hour";
            text.push_str(self.tape.pick(every));
        }
        if self.tape.one_in(8) {
            text.push_str(self.tape.pick(" hands-on¦ hands-off¦ Hands-on"));
        }
        if self.tape.one_in(3) {
            let (gap, cue) = (self.tape.pick(" ¦  "), self.tape.pick(words::CUES));
            let _ = write!(text, "{gap}until {cue}");
        }
        self.entry(&text);
    }

    fn note(&mut self) {
        if self.tape.one_in(6) {
            let mark = self.mark();
            self.entry(&format!("note  use 500g, {mark}  not more"));
        }
    }

    /// Writes stages and gives the words that pour each of them.
    fn stages(&mut self) -> Vec<&'static str> {
        let mut poured = Vec::new();
        for head in words::STAGES.split('¦') {
            if !self.tape.one_in(3) {
                continue;
            }
            self.header(head);
            self.line("100 %", "bread flour");
            self.line("90%", "water");
            if self.tape.one_in(2) {
                self.line("2 %", "honey");
            }
            self.note();
            self.step();
            poured.push(head.split(',').next().unwrap_or_default());
        }
        poured
    }

    fn dough(&mut self, stages: &[&str]) {
        self.header("dough");
        for (flour, share) in [("bread flour", "90 %¦90%"), ("whole wheat flour", "10 %¦10%")] {
            let quantity = self.tape.pick(if self.is_sized { share } else { words::WEIGHTS });
            self.line(quantity, flour);
        }
        for stage in stages {
            let quantity = self.tape.pick(match *stage {
                "poolish" if !self.is_sized => "all¦all of the¦All",
                "poolish" => "10 %¦10%",
                _ if self.is_sized => "20 %¦20%",
                _ => "20 %¦150g",
            });
            self.line(quantity, &stage.to_lowercase());
        }
        for _ in 0..self.tape.below(6) {
            let (quantity, thing) = match self.tape.below(6) {
                0..=2 => (words::SHARES, words::THINGS),
                3 if !self.is_sized => (words::VOLUMES, words::WET),
                4 => ("some¦Some", words::THINGS),
                _ if self.is_sized => (words::SHARES, words::THINGS),
                _ => (words::SMALL_WEIGHTS, words::THINGS),
            };
            let (quantity, thing) = (self.tape.pick(quantity), self.tape.pick(thing));
            self.line(quantity, thing);
            self.note();
        }
        self.entry("5 min  mix by hand");
        for _ in 0..=self.tape.below(5) {
            self.step();
        }
    }

    fn extras(&mut self) {
        if self.tape.one_in(4) {
            self.header("topping, 5g each");
            self.line("3 parts", "unsalted butter");
            self.line("1 Part", "honey");
        }
        if self.tape.one_in(3) {
            let mark = self.mark();
            self.header(&format!("variation of {mark}"));
            let text = self.tape.pick(words::CHANGES);
            self.entry(text);
            if self.tape.one_in(2) {
                self.entry("keeps:  2 days");
            }
        }
        if self.tape.one_in(3) {
            self.header("bake 2026-03-14");
            for reading in words::READINGS.split('¦') {
                if self.tape.one_in(2) {
                    self.entry(reading);
                }
            }
            let mark = self.mark();
            self.entry(&format!("Paler than last week {mark}"));
        }
        for head in ["about", "Notes"] {
            if self.tape.one_in(3) {
                self.header(head);
                self.prose(self.indent);
            }
        }
    }

    fn ingredient(&mut self, name: &str) {
        self.header(&format!("ingredient {name}"));
        self.entry("like  bread flour");
        for choices in words::PROPERTIES {
            if self.tape.one_in(3) {
                let text = self.tape.pick(choices);
                self.entry(text);
            }
        }
        if self.tape.one_in(2) {
            let mark = self.mark();
            self.entry(&format!("also  the miller's {mark}"));
        }
    }

    fn finished(mut self) -> String {
        self.between_keys();
        let line_end = self.tape.pick("\n¦\n¦\r\n");
        let mark = self.tape.pick("¦¦¦\u{feff}");
        let last = self.tape.below(3);
        format!("{mark}{}{}", self.lines.join(line_end), line_end.repeat(last))
    }
}
