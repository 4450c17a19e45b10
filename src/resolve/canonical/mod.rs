//! The canonical text of a model: one file in the same language that gives the same model, with what is left to defaults said.
mod fault;
mod item;
mod need;
mod numbers;
mod rest;
mod tree;

use crate::model::Model;
use tree::Table;

/// The model as one text: tails applied, `[private]` left out, keys sorted, every need in its table form.
///
/// Loading it gives a model whose canonical text is the same bytes.
pub fn canonical_model(model: &Model) -> String {
    let mut top = Table::default();
    rest::write(model, &mut top);
    item::write(model, &mut top);
    top.write()
}
