//! Recipes for the bench, each a little different, written by number.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};

/// Writes a folder of so many recipes with a bakehouse; one that is there already is kept.
pub(crate) fn write_book(folder: &Path, count: usize) -> io::Result<PathBuf> {
    fs::create_dir_all(folder)?;
    fs::write(
        folder.join("bakehouse.loaf"),
        "bakehouse: Oxlip Row\nroom:      20 C\nfridge:    4 C\nasleep:    22:30-05:30\n",
    )?;
    for number in 0..count {
        fs::write(folder.join(format!("bread-{number:05}.loaf")), recipe(number))?;
    }
    Ok(folder.to_path_buf())
}

/// Writes one recipe of about 2 KB: a levain, a soaker, a dough of fifteen lines, steps and prose.
pub(crate) fn recipe(number: usize) -> String {
    let (water, rye, salt) = (60 + number % 15, 5 + number % 20, 18 + number % 5);
    format!(
        "\
title:  Oxlip Row bread number {number}
makes:  2 loaves of {weight} g
units:  g, oz
dough temperature: 25 C
bake loss: 12 %
tags:   levain, everyday

about:
  A bread for every day of the week, with a little rye for its colour and seeds for those who want
  them. It is mixed in the evening and baked before noon, and *nobody gets up at night* for it.

levain:
  100 %     bread flour
  100 %     water
  20 %      starter
  5 min     mix
  overnight ripen at 20 C until domed and just starting to sink

soaker:
  60 g      sunflower seeds
  40 g      linseed
  100 g     water
  5 min     stir
  8-12 h    soak at room

dough:
  {white} %      bread flour
  {rye} %       medium rye flour
  {water} %      water
  1.{salt} %    salt
  30 %      levain
  1.5 %     honey
  3 %       olive oil
  30 min    autolyse
              Cover the bowl. The flour drinks the water meanwhile.
  6 min     mix by hand
  all       soaker
  4 min     knead
  4-5 h     bulk at 25 C with 3 folds every 45 min until 1.5x
  10 min    divide
  20 min    rest
              Flour the bench lightly, and leave the pieces under a cloth.
  10 min    shape
  10-14 h   retard in the fridge
  5 min     score
  45 min    bake at 230 C until core 96 C
              The first fifteen minutes with steam: pour a cup of hot water into a tray, and stand aside.
  2 h       cool

variation white:
  without soaker

notes:
  Wrap only when no warmth is left in the loaf. The crumb is at its best on the second day, and makes
  good toast on the fifth.
",
        weight = 600 + number % 7 * 50,
        white = 100 - rye,
    )
}
