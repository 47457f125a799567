//! Probes in the branches of the code, so that the run that finds which test reaches which mutant also finds which
//! branches no test takes.

use std::collections::{BTreeMap, BTreeSet};

use proc_macro2::Span;
use quote::quote;
use syn::spanned::Spanned;
use syn::visit_mut::{self, VisitMut};
use syn::{Arm, Block, Expr, Stmt};

use crate::rewrite::{is_test, leave_out};

/// Probes are numbered from here, beyond the mutants; `mutant.rs` has room for as many of both.
pub const FIRST: u32 = 1 << 14;

/// Writes probes into a file: both sides of an `if`, each arm of a `match`, the way out of a `let ... else`.
pub struct Branches<'a> {
    pub file: &'a str,
    pub left_out: &'a BTreeSet<u32>,
    /// Where each probe is.
    pub places: &'a mut BTreeMap<u32, String>,
}

impl Branches<'_> {
    fn probe(&mut self, what: &str, span: Span) -> Option<Stmt> {
        let id = FIRST + self.places.len() as u32;
        let start = span.start();
        self.places.insert(id, format!("{}:{}:{}: {what}", self.file, start.line, start.column + 1));
        (!self.left_out.contains(&id))
            .then(|| syn::parse2(quote!(crate::mutant::passed(#id);)).expect("a statement"))
    }

    fn enter(&mut self, what: &str, span: Span, block: &mut Block) {
        if let Some(probe) = self.probe(what, span) {
            block.stmts.insert(0, probe);
        }
    }
}

impl VisitMut for Branches<'_> {
    fn visit_item_fn_mut(&mut self, item: &mut syn::ItemFn) {
        if !is_test(&item.attrs) {
            visit_mut::visit_item_fn_mut(self, item);
        }
    }

    leave_out!();

    fn visit_arm_mut(&mut self, arm: &mut Arm) {
        visit_mut::visit_arm_mut(self, arm);
        if let Some(probe) = self.probe("arm", arm.pat.span()) {
            let body = &arm.body;
            *arm.body = syn::parse2(quote!({ #probe #body })).expect("a block");
        }
    }

    fn visit_local_mut(&mut self, local: &mut syn::Local) {
        visit_mut::visit_local_mut(self, local);
        let span = local.let_token.span;
        if let Some((_, otherwise)) = local.init.as_mut().and_then(|init| init.diverge.as_mut())
            && let Expr::Block(otherwise) = &mut **otherwise
        {
            self.enter("else of let", span, &mut otherwise.block);
        }
    }

    fn visit_expr_if_mut(&mut self, one: &mut syn::ExprIf) {
        visit_mut::visit_expr_if_mut(self, one);
        let span = one.if_token.span;
        self.enter("if", span, &mut one.then_branch);
        match &mut one.else_branch {
            None => {
                if let Some(probe) = self.probe("if not", span) {
                    let otherwise = syn::parse2(quote!({ #probe })).expect("a block");
                    one.else_branch = Some((Default::default(), Box::new(otherwise)));
                }
            }
            Some((_, otherwise)) => {
                // An `else if` has probes of its own.
                if let Expr::Block(otherwise) = &mut **otherwise {
                    self.enter("if not", span, &mut otherwise.block);
                }
            }
        }
    }
}
