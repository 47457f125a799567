//! Writes every mutant of a file into it, each behind a switch: `a + b` becomes
//! `if crate::mutant::on(7) { a - b } else { a + b }`.

use std::collections::HashMap;

use proc_macro2::{Span, TokenStream};
use quote::quote;
use syn::spanned::Spanned;
use syn::visit_mut::{self, VisitMut};
use syn::{Arm, BinOp, Block, Expr, Stmt};

use crate::branches::Branches;
use crate::list::{Mutant, Place};

/// What neither mutants nor probes are written into: unit tests, and what is worked out at compile time, which cannot be
/// switched.
macro_rules! leave_out {
    () => {
        fn visit_item_mod_mut(&mut self, item: &mut syn::ItemMod) {
            if !$crate::rewrite::is_test(&item.attrs) {
                syn::visit_mut::visit_item_mod_mut(self, item);
            }
        }

        fn visit_item_const_mut(&mut self, _: &mut syn::ItemConst) {}
        fn visit_item_static_mut(&mut self, _: &mut syn::ItemStatic) {}
        fn visit_impl_item_const_mut(&mut self, _: &mut syn::ImplItemConst) {}
        fn visit_trait_item_const_mut(&mut self, _: &mut syn::TraitItemConst) {}
        fn visit_expr_const_mut(&mut self, _: &mut syn::ExprConst) {}
        fn visit_type_mut(&mut self, _: &mut syn::Type) {}
        fn visit_pat_mut(&mut self, _: &mut syn::Pat) {}
    };
}
pub(crate) use leave_out;

/// The file with its mutants and the probes of its branches, and the identifiers of the mutants written into it.
pub fn rewrite(
    source: &str,
    mutants: &[&Mutant],
    mut branches: Branches<'_>,
) -> syn::Result<(String, Vec<u32>)> {
    let mut file = syn::parse_file(source)?;
    branches.visit_file_mut(&mut file);
    let mut by_place: HashMap<(&str, Place), Vec<&Mutant>> = HashMap::new();
    for mutant in mutants {
        by_place.entry((mutant.genre.as_str(), mutant.start)).or_default().push(mutant);
    }
    let mut writer = Writer { by_place, written: Vec::new() };
    writer.visit_file_mut(&mut file);
    Ok((prettyplease::unparse(&file), writer.written))
}

struct Writer<'a> {
    by_place: HashMap<(&'a str, Place), Vec<&'a Mutant>>,
    written: Vec<u32>,
}

impl<'a> Writer<'a> {
    fn at(&mut self, genre: &'static str, span: Span) -> Vec<&'a Mutant> {
        let start = span.start();
        let place = Place { line: start.line, column: start.column + 1 };
        let found = self.by_place.get(&(genre, place)).cloned().unwrap_or_default();
        self.written.extend(found.iter().map(|mutant| mutant.id));
        found
    }

    fn body(&mut self, block: &mut Block) {
        let Some(first) = block.stmts.first() else { return };
        let changed = self.at("FnValue", first.span());
        visit_mut::visit_block_mut(self, block);
        for mutant in changed.iter().rev() {
            let (id, value) = (mutant.id, tokens(&mutant.replacement));
            let early: Stmt =
                syn::parse2(quote!(if crate::mutant::on(#id) { return #value; })).expect("a statement");
            block.stmts.insert(0, early);
        }
    }
}

fn tokens(text: &str) -> TokenStream {
    text.parse().expect("the replacement is Rust")
}

/// `if on(1) { a } else if on(2) { b } else { unchanged }`.
fn choice(changed: impl DoubleEndedIterator<Item = (u32, TokenStream)>, unchanged: &Expr) -> Expr {
    // In parentheses, since a block that begins with `if` ends where that does.
    let last = quote!({ (#unchanged) });
    let chain = changed
        .rev()
        .fold(last, |other, (id, value)| quote!(if crate::mutant::on(#id) { (#value) } else #other));
    syn::parse2(quote!((#chain))).expect("an expression")
}

/// Whether an operand binds in a chain of `if let`, which cannot stand anywhere else.
fn binds(expr: &Expr) -> bool {
    match expr {
        Expr::Let(_) => true,
        Expr::Binary(chain) if matches!(chain.op, BinOp::And(_)) => binds(&chain.left) || binds(&chain.right),
        _ => false,
    }
}

impl VisitMut for Writer<'_> {
    fn visit_item_fn_mut(&mut self, item: &mut syn::ItemFn) {
        if !is_test(&item.attrs) {
            self.body(&mut item.block);
        }
    }

    fn visit_impl_item_fn_mut(&mut self, item: &mut syn::ImplItemFn) {
        self.body(&mut item.block);
    }

    fn visit_trait_item_fn_mut(&mut self, item: &mut syn::TraitItemFn) {
        if let Some(block) = &mut item.default {
            self.body(block);
        }
    }

    leave_out!();

    fn visit_arm_mut(&mut self, arm: &mut Arm) {
        let deleted = self.at("MatchArm", arm.span());
        let guard = arm.guard.as_ref().map(|(_, guard)| (**guard).clone());
        let fixed = guard.as_ref().map_or_else(Vec::new, |guard| self.at("MatchArmGuard", guard.span()));
        visit_mut::visit_arm_mut(self, arm);
        if let Some((_, guard)) = &mut arm.guard
            && !fixed.is_empty()
        {
            let values = fixed.iter().map(|mutant| (mutant.id, tokens(&mutant.replacement)));
            **guard = choice(values, guard);
        }
        for mutant in deleted {
            let id = mutant.id;
            let guard = match &arm.guard {
                Some((_, guard)) => quote!(!crate::mutant::on(#id) && #guard),
                None => quote!(!crate::mutant::on(#id)),
            };
            arm.guard = Some((Default::default(), Box::new(syn::parse2(guard).expect("a guard"))));
        }
    }

    fn visit_expr_mut(&mut self, expr: &mut Expr) {
        let before = expr.clone();
        visit_mut::visit_expr_mut(self, expr);
        match before {
            Expr::Binary(binary) if !binds(&binary.left) && !binds(&binary.right) => {
                let changed = self.at("BinaryOperator", binary.op.span());
                if !changed.is_empty() {
                    let (left, right) = (&binary.left, &binary.right);
                    let values = changed.iter().map(|mutant| {
                        let operator = tokens(&mutant.replacement);
                        (mutant.id, quote!((#left) #operator (#right)))
                    });
                    *expr = choice(values, expr);
                }
            }
            Expr::Unary(unary) => {
                let changed = self.at("UnaryOperator", unary.op.span());
                if !changed.is_empty() {
                    let operand = &unary.expr;
                    *expr = choice(changed.iter().map(|mutant| (mutant.id, quote!(#operand))), expr);
                }
            }
            Expr::Struct(before) => {
                let (Expr::Struct(now), Some(base)) = (expr, &before.rest) else { return };
                for (field, old) in now.fields.iter_mut().zip(&before.fields) {
                    let changed = self.at("StructField", old.span());
                    let member = &old.member;
                    let values = changed.iter().map(|mutant| (mutant.id, quote!((#base).#member)));
                    if !changed.is_empty() {
                        field.expr = choice(values, &field.expr);
                        field.colon_token = Some(Default::default());
                    }
                }
            }
            _ => {}
        }
    }
}

/// Whether an item is there for unit tests only.
pub fn is_test(attrs: &[syn::Attribute]) -> bool {
    attrs.iter().any(|attr| {
        attr.path().is_ident("test")
            || attr.path().is_ident("cfg")
                && matches!(&attr.meta, syn::Meta::List(list) if list.tokens.to_string() == "test")
    })
}
