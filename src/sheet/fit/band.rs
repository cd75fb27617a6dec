//! How much tin a gram of dough usually gets, by the kind of bread and of tin. Owns the bands and which one
//! holds; what is made of them is the business of others.

use crate::quantity::Ratio;
use crate::sheet::Figures;

/// The breads that the bands tell apart.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TinBread {
    /// White, under a lid.
    WhiteLidded,
    /// White, in an open tin.
    WhiteOpen,
    /// White, in a tin of which nobody says whether it has a lid.
    White,
    /// Three quarters of the flour and more are wholegrain.
    Wholemeal,
    /// Half of the flour and more is rye.
    Rye,
}

/// A usual range, in millilitres of tin for a gram of dough.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TinBand {
    /// The bread that it holds for.
    pub bread: TinBread,
    /// Its lower end: a full tin.
    pub low: Ratio,
    /// Its upper end: a tin with room.
    pub high: Ratio,
    /// How far it reaches where the dough is driven as high as in a factory.
    pub widest: Ratio,
}

impl TinBread {
    /// Every one of them.
    pub const ALL: [Self; 5] = [
        Self::WhiteLidded,
        Self::WhiteOpen,
        Self::White,
        Self::Wholemeal,
        Self::Rye,
    ];

    /// Gives lower end, upper end and widest reach in thousandths of a millilitre: published value P10, trade
    /// practice from memory.
    const fn thousandths(self) -> [i64; 3] {
        match self {
            Self::WhiteLidded => [3200, 4000, 4000],
            Self::WhiteOpen => [2800, 3500, 4400],
            Self::White => [2800, 4000, 4400],
            Self::Wholemeal => [2400, 3000, 3000],
            Self::Rye => [1600, 2200, 2200],
        }
    }
}

impl TinBand {
    /// Finds the band of a bread in a tin, which is lidded, open, or nobody says.
    #[must_use]
    pub fn of(figures: &Figures, lidded: Option<bool>) -> Self {
        let over = |share: &Option<Ratio>, (part, whole): (i64, i64)| {
            let bound = Ratio::fraction(part, whole).unwrap_or_default();
            share.as_ref().is_some_and(|share| *share >= bound)
        };
        let bread = if over(&figures.rye, (1, 2)) {
            TinBread::Rye
        } else if over(&figures.wholegrain, (3, 4)) {
            TinBread::Wholemeal
        } else {
            match lidded {
                Some(true) => TinBread::WhiteLidded,
                Some(false) => TinBread::WhiteOpen,
                None => TinBread::White,
            }
        };
        let [low, high, widest] = bread
            .thousandths()
            .map(|thousandths| Ratio::fraction(thousandths, 1000).unwrap_or_default());
        Self {
            bread,
            low,
            high,
            widest,
        }
    }

    /// Gives its middle, which sizes a dough where nobody says more.
    #[must_use]
    pub fn middle(&self) -> Ratio {
        &(&self.low + &self.high) / &Ratio::whole(2)
    }
}
