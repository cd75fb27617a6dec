//! Sizes: the equations of a recipe, in the order in which a baker trusts them.
//!
//! First what the lines of a block say of themselves, then sizes in headers, then `makes` or the tin, then
//! `flour`, then each stage made as large as it is poured. What is weighed wins over what is wished.

use std::collections::BTreeSet;

use super::content::{self, Content};
use super::faults::{self, Origin};
use super::forms::{self, Basis, BlockForms, unknown};
use super::linear::{Added, Equations, Form, TooAwkward, Unknown};
use crate::diag::Report;
use crate::model::recipe::{Amount, Block, BlockId, BlockKind, Makes, Recipe, SizeRule};
use crate::quantity::{Grams, Ratio};
use crate::source::Span;

/// What is known of the sizes of a recipe.
#[derive(Debug)]
pub(super) struct Sizes {
    /// Every block as forms.
    pub(super) forms: Vec<BlockForms>,
    /// What they come to.
    pub(super) equations: Equations,
    /// The blocks, those that are poured first.
    pub(super) order: Vec<BlockId>,
    /// The stages that nothing sizes because nothing pours them.
    pub(super) idle: Vec<BlockId>,
}

/// Shares lost between bowl and cooled loaf, of the dough as mixed.
#[derive(Clone, Debug)]
pub(super) struct Losses {
    pub(super) handling: Ratio,
    pub(super) bake: Ratio,
    pub(super) bake_assumed: bool,
}

/// The bake loss where nobody says: 12 % of the dough weight; common practice, no source.
const USUAL_BAKE_LOSS: (i64, i64) = (12, 100);

/// Gives the losses of a recipe.
pub(super) fn losses(recipe: &Recipe) -> Losses {
    let said = recipe.details.bake_loss.as_ref().map(|loss| loss.value.clone());
    Losses {
        handling: recipe
            .details
            .handling_loss
            .as_ref()
            .map_or(Ratio::ZERO, |loss| loss.value.clone()),
        bake_assumed: said.is_none(),
        bake: said
            .unwrap_or_else(|| Ratio::fraction(USUAL_BAKE_LOSS.0, USUAL_BAKE_LOSS.1).unwrap_or_default()),
    }
}

/// Works out the sizes; nothing where an error stands in the way.
pub(super) fn sizes(recipe: &Recipe, report: &mut Report) -> Option<Sizes> {
    let order = forms::in_order_of_use(recipe);
    let mut found = Report::new();
    let forms = forms::of_recipe(recipe, &order, &mut found);
    if found.has_errors() {
        report.merge(found);
        return None;
    }
    let mut solver = Solver {
        recipe,
        order,
        forms,
        equations: Equations::default(),
        origins: Vec::new(),
        report: found,
        wished: BTreeSet::new(),
        in_vain: Report::new(),
        idle: Vec::new(),
    };
    let outcome = solver.run();
    let Solver {
        order,
        forms,
        equations,
        report: found,
        in_vain,
        idle,
        ..
    } = solver;
    // A wish that the weights do not meet changes none of them, so that stages can be looked at all the same.
    let failed = found.has_errors();
    report.merge(found);
    report.merge(in_vain);
    if let Err(TooAwkward) = outcome {
        report.push(faults::too_awkward(recipe));
        return None;
    }
    (!failed).then_some(Sizes {
        forms,
        equations,
        order,
        idle,
    })
}

struct Solver<'recipe> {
    recipe: &'recipe Recipe,
    order: Vec<BlockId>,
    forms: Vec<BlockForms>,
    equations: Equations,
    origins: Vec<Origin>,
    report: Report,
    /// The wishes among the origins.
    wished: BTreeSet<usize>,
    /// Wishes that give way to weights.
    in_vain: Report,
    idle: Vec<BlockId>,
}

impl Solver<'_> {
    fn run(&mut self) -> Result<(), TooAwkward> {
        for block in &self.recipe.blocks {
            self.own_flour(block)?;
        }
        self.header_sizes()?;
        self.wished_sizes()?;
        // Those that pour come before those that are poured, so that a size travels down the chain.
        for id in self.order.clone().into_iter().rev() {
            self.as_large_as_poured(id)?;
        }
        self.what_is_open();
        Ok(())
    }

    fn total(&self, id: BlockId) -> Form {
        self.forms
            .get(id.0)
            .map(|forms| forms.total.clone())
            .unwrap_or_default()
    }

    /// Adds an equation that must hold to the last half per cent.
    fn must(
        &mut self,
        form: &Form,
        stated: &Ratio,
        origin: Origin,
        prefer: Unknown,
    ) -> Result<(), TooAwkward> {
        let number = self.origins.len();
        self.origins.push(origin);
        if let Added::Contradicts { by, beside } = self.equations.add(number, form, Some(prefer))?
            && faults::relative(&by, stated) > faults::rounding()
        {
            let fault = faults::disagree(&self.origins, number, &beside, &by, None);
            self.report.push(fault);
        }
        Ok(())
    }

    /// What 100 % is where some flour is weighed, or comes with parts of the dough.
    fn own_flour(&mut self, block: &Block) -> Result<(), TooAwkward> {
        let Some(forms) = self.forms.get(block.id.0) else {
            return Ok(());
        };
        if forms.basis != Basis::Weighed {
            return Ok(());
        }
        let mut form = Form::default();
        let mut place = block.span;
        for (entry, line) in forms::lines(block) {
            let own = forms.lines.iter().find(|at| at.entry == entry).map(|at| &at.form);
            if let Some(own) = own.filter(|_| forms::is_flour(&line.thing)) {
                form.add(own);
                if matches!(line.amount.value, Amount::Weight(_)) {
                    place = line.span;
                }
            }
            if let Some(part) = forms::stage_of(line).filter(|id| forms::is_part(self.recipe, *id)) {
                form.add(&Form::of(unknown(part), &Ratio::ONE));
            }
        }
        form.take(&Form::of(unknown(block.id), &Ratio::ONE));
        let origin = Origin::new(place, "the flour weighed here sets the size");
        self.must(&form, &Ratio::ONE, origin, unknown(block.id))
    }

    fn header_sizes(&mut self) -> Result<(), TooAwkward> {
        let is_share = |block: &Block| {
            matches!(
                block.size.as_ref().map(|size| &size.value),
                Some(SizeRule::ShareOfFlour(_))
            )
        };
        let contents = if self.recipe.blocks.iter().any(is_share) {
            content::of_recipe(self.recipe, &self.forms, &self.equations, &self.order)
        } else {
            Vec::new()
        };
        for block in &self.recipe.blocks {
            let Some(size) = &block.size else { continue };
            let (form, stated) = match &size.value {
                SizeRule::Total(grams) => {
                    let mut form = self.total(block.id);
                    form.take(&Form::number(grams.0.clone()));
                    (form, grams.0.clone())
                }
                SizeRule::Each(grams) => {
                    let stated = &grams.0 * &count(self.recipe);
                    let mut form = self.total(block.id);
                    form.take(&Form::number(stated.clone()));
                    (form, stated)
                }
                SizeRule::ShareOfFlour(share) => {
                    let content = contents.get(block.id.0).and_then(Option::as_ref);
                    if content.is_some_and(|content| content.flour == Form::default()) {
                        self.report.push(faults::share_of_no_flour(block, size.span));
                        continue;
                    }
                    let Some(form) = self.share_of_flour(&contents, block.id, share) else {
                        self.report.push(faults::share_unclear(block, size.span));
                        continue;
                    };
                    (form, Ratio::ONE)
                }
            };
            let origin = Origin::new(size.span, format!("the size of the {} is said here", block.title));
            self.must(&form, &stated, origin, unknown(block.id))?;
        }
        Ok(())
    }

    /// The flour in what is poured of a stage, less its share of all flour in the bread.
    fn share_of_flour(&self, contents: &[Option<Content>], id: BlockId, share: &Ratio) -> Option<Form> {
        let content = contents.get(id.0)?.as_ref()?;
        let all_flour = if content::has_formula(self.recipe) {
            Form::of(unknown(self.recipe.main), &Ratio::ONE)
        } else {
            contents.get(self.recipe.main.0)?.as_ref()?.flour.clone()
        };
        let mut form = content.flour.clone();
        let kept = forms::kept(self.recipe, id);
        if kept != Form::default() {
            // More is made than is poured: flour is kept back with the rest, in the stage's own proportion.
            let (mut lasting, mut more) = (content.total.clone(), kept);
            lasting.take(&content.seed);
            if content::has_formula(self.recipe) {
                more.take(&content.seed);
            }
            let flour_part = content::part_of(&self.equations, &content.flour, &lasting)?;
            form.take(&more.times(&flour_part));
        }
        form.take(&all_flour.times(share));
        Some(form)
    }

    /// `makes`, the tin and `flour`: what is weighed wins over them, and they over what comes after.
    fn wished_sizes(&mut self) -> Result<(), TooAwkward> {
        let losses = losses(self.recipe);
        if let Some((form, stated, span)) = self.wanted_dough(&losses) {
            let says = match &self.recipe.makes {
                Some(makes) if makes.value.weight.is_some() => "asked for here",
                _ => "the tin asks for this",
            };
            let makes = self.recipe.makes.as_ref().map(|makes| &makes.value);
            let fits = |all: &Ratio| {
                let makes = makes.filter(|makes| makes.weight.is_some())?;
                Some(faults::makes_of(makes, &all.checked_div(&makes.count)?))
            };
            self.wish(&form, &stated, Origin::new(span, says), fits)?;
        }
        if let Some(flour) = &self.recipe.flour {
            let mut form = Form::of(unknown(self.recipe.main), &Ratio::ONE);
            form.take(&Form::number(flour.value.0.clone()));
            self.wish(
                &form,
                &flour.value.0,
                Origin::new(flour.span, "the flour asked for here"),
                |all| Some(faults::flour_of(all)),
            )?;
        }
        Ok(())
    }

    /// The dough that `makes` or the tin wants, as a form that is nought, with the weight it states.
    fn wanted_dough(&self, losses: &Losses) -> Option<(Form, Ratio, Span)> {
        let total = self.total(self.recipe.main);
        let after_handling = &Ratio::ONE - &losses.handling;
        let makes = self.recipe.makes.as_ref();
        if let Some((weight, makes)) = makes.and_then(|makes| Some((makes.value.weight.as_ref()?, makes))) {
            let stated = &makes.value.count * &weight.0;
            let mut form = if makes.value.baked {
                let mut form = total.times(&(&after_handling - &losses.bake));
                for block in self.recipe.blocks.iter().filter(|block| is_extra(block.kind)) {
                    form.add(&self.total(block.id));
                }
                form
            } else {
                total.times(&after_handling)
            };
            form.take(&Form::number(stated.clone()));
            return Some((form, stated, makes.span));
        }
        let tin = self.recipe.tin.as_ref()?;
        let each = tin.value.volume.0.checked_div(tin.value.ml_per_g.as_ref()?)?;
        let stated = &each * &count(self.recipe);
        let mut form = total.times(&after_handling);
        form.take(&Form::number(stated.clone()));
        Some((form, stated, tin.span))
    }

    /// Adds an equation that gives way: up to half a per cent is rounding, up to five a warning.
    ///
    /// `fits` writes the wish anew for what the other lines come to.
    fn wish(
        &mut self,
        form: &Form,
        stated: &Ratio,
        origin: Origin,
        fits: impl Fn(&Ratio) -> Option<String>,
    ) -> Result<(), TooAwkward> {
        let number = self.origins.len();
        self.origins.push(origin);
        let main = unknown(self.recipe.main);
        if let Added::Contradicts { by, mut beside } = self.equations.add(number, form, Some(main))? {
            let fits = fits(&(stated + &by));
            if let Some(dough) = self
                .recipe
                .blocks
                .get(self.recipe.main.0)
                .filter(|_| beside.is_empty())
            {
                // No equation was needed for it: every line of the dough is a weight.
                beside.insert(self.origins.len());
                let all = faults::grams(&(stated + &by));
                self.origins.push(Origin::new(
                    dough.span,
                    format!("what is weighed here makes {all}"),
                ));
            }
            let miss = faults::relative(&by, stated);
            let fault = if miss > faults::leeway() {
                faults::disagree(&self.origins, number, &beside, &by, fits.as_deref())
            } else if miss > faults::rounding() {
                faults::differ(&self.origins, number, &beside, (&by, &miss), fits.as_deref())
            } else {
                return Ok(());
            };
            if beside.is_disjoint(&self.wished) {
                self.in_vain.push(fault);
            } else {
                self.report.push(fault);
            }
        }
        self.wished.insert(number);
        Ok(())
    }

    /// A stage that its own lines leave open is as large as what is poured of it and kept.
    fn as_large_as_poured(&mut self, id: BlockId) -> Result<(), TooAwkward> {
        let Some(block) = self.recipe.blocks.get(id.0) else {
            return Ok(());
        };
        let total = self.total(id);
        if id == self.recipe.main || self.equations.value(&total).is_some() {
            return Ok(());
        }
        let poured = forms::poured(self.recipe, &self.forms, id);
        if poured == Form::default() {
            // Under a formula every stage joins, so that one that is still open has to be asked about.
            if !is_extra(block.kind) && !content::has_formula(self.recipe) {
                self.idle.push(id);
            }
            return Ok(());
        }
        let only_into = poured.as_single().map(|(into, _)| BlockId(into));
        if only_into.is_some_and(|into| self.idle.contains(&into)) {
            // What feeds nothing but a stage that is never used is not made either; that one is told of.
            self.idle.push(id);
            return Ok(());
        }
        let mut form = total;
        form.take(&poured);
        form.take(&forms::kept(self.recipe, id));
        let origin = Origin::new(
            block.span,
            format!("the {} is made as large as it is poured", block.title),
        );
        self.must(&form, &Ratio::ONE, origin, unknown(id))
    }

    /// Names the blocks whose size nothing says; those that hang on an open one are not named again.
    fn what_is_open(&mut self) {
        if self.report.has_errors() {
            return;
        }
        let open: Vec<BlockId> = self
            .order
            .iter()
            .copied()
            .filter(|id| !self.idle.contains(id) && self.equations.value(&self.total(*id)).is_none())
            .collect();
        if open.contains(&self.recipe.main) {
            self.report.push(faults::dough_open(self.recipe));
        }
        let main = unknown(self.recipe.main);
        for id in open {
            let rests_on: Vec<Unknown> = self.equations.reduce(&self.total(id)).0.unknowns().collect();
            let hangs_on_another = rests_on.contains(&main) || !rests_on.contains(&unknown(id));
            let Some(block) = self.recipe.blocks.get(id.0) else {
                continue;
            };
            if id != self.recipe.main && !hangs_on_another {
                let forms = self.forms.get(id.0);
                let has_flour = forms.is_some_and(|forms| forms.basis != Basis::Proportion);
                let in_formula = content::has_formula(self.recipe);
                self.report.push(faults::stage_open(block, in_formula, has_flour));
            }
        }
    }
}

/// Says whether a block goes into or onto the pieces.
pub(super) const fn is_extra(kind: BlockKind) -> bool {
    matches!(kind, BlockKind::Filling | BlockKind::Topping)
}

/// Gives the number of pieces; one where nothing says.
pub(super) fn count(recipe: &Recipe) -> Ratio {
    recipe
        .makes
        .as_ref()
        .map_or(Ratio::ONE, |makes| makes.value.count.clone())
}

/// Gives the weight that a recipe's `makes` states for a piece.
pub(super) fn stated_piece(makes: Option<&Makes>) -> Option<&Grams> {
    makes.and_then(|makes| makes.weight.as_ref())
}
