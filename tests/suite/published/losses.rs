//! Rows B18 to B21: what is lost in the bowl and in the oven.

use crate::bread::{near, pounds, published};

/// B18: 500 lb of bread at 2 % and 11 % take 500 / 0.87 = 574.7 lb of dough. W. Prejean, bread formula
/// construction, 2011 (the rule; computed).
///
/// B19, T!: not 500 x 1.13 = 565 lb.
#[test]
fn b18_b19_dough_for_baked_bread() {
    let bread = published("b18-losses");
    let dough = pounds(&bread.dough());
    near(dough, 574.7, 0.1);
    assert!((dough - 565.0).abs() > 5.0);
    near(pounds(&bread.sheet().pieces.baked.0), 500.0, 1e-9);
}

/// B20: the flour of that dough at 169 %: 340.07 lb. The two sources chained.
#[test]
fn b20_its_flour() {
    near(pounds(&published("b18-losses").flour()), 340.07, 0.05);
}

/// B21: an army bakehouse about 1800: water 61.1 %, dough 162.0 and bread 137.9 per 100 of meal, bake loss 13.1 %
/// of what was scaled. Rumford, *Essays*.
#[test]
fn b21_yield_of_an_army_rye() {
    let bread = published("b21-rumford");
    near(bread.percent("dough", "water"), 61.1, 0.1);
    near((&bread.dough() / &bread.flour()).to_f64() * 100.0, 162.0, 0.1);
    let pieces = &bread.sheet().pieces;
    near(pounds(&pieces.dough.0), 2.5, 0.001);
    near(pounds(&pieces.dough.0) * 1102.0, 2755.0, 0.5);
    near(pounds(&pieces.baked.0), 2.0 + 5.5 / 32.0, 0.001);
    let loss = 1.0 - pounds(&pieces.baked.0) / pounds(&pieces.dough.0);
    near(loss * 100.0, 13.1, 0.1);
    near(
        pounds(&pieces.baked.0) * 1102.0 / pounds(&bread.flour()) * 100.0,
        137.9,
        0.1,
    );
}
