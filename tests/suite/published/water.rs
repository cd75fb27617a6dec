//! Rows W12 and W13: what hydration means.

use crate::bread::{in_percent, near, published};

/// W12: the water of what is wet over all flour, 68.9 % by USDA shares of water (FoodData Central, SR Legacy,
/// computed); 1 point for other tables.
///
/// W13, T!: not the 74.0 % of milk and egg taken for pure water, and the 24.0 % of water alone stand beside it.
#[test]
fn w12_w13_hydration_of_an_enriched_dough() {
    let bread = published("w12-enriched");
    let figures = &bread.sheet().figures;
    let hydration = in_percent(figures.hydration.as_ref());
    near(hydration, 68.9, 0.5);
    assert!((hydration - 74.0).abs() > 1.0);
    near(in_percent(figures.poured_water.as_ref()), 24.0, 0.1);
}
