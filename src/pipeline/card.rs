//! The quick-reference card: composed, set, and told to the author where it does not fit.

use super::{Compiled, PipelineError};
use crate::analyse::network::Analysis;
use crate::base::{Diagnostic, Span};
use crate::compose;
use crate::doc::Meta;
use crate::model::Model;
use crate::render::pdf::card::{self, CardError};
use crate::render::pdf::fonts::Fonts;

/// The bytes of the card; nothing where it does not fit, which is among the findings then.
///
/// # Errors
/// [`PipelineError::Refused`] where the file cannot be written.
pub(super) fn make(
    model: &Model,
    analysis: &Analysis<'_>,
    compiled: &mut Compiled,
    meta: &Meta,
) -> Result<Option<Vec<u8>>, PipelineError> {
    let document = compose::card(model, analysis, &compiled.sources, meta);
    match card::write(&document, &mut Fonts::new()) {
        Ok(bytes) => Ok(Some(bytes)),
        Err(CardError::TooFull { lines, largest }) => {
            compiled.findings.push(too_full(model, lines, &largest));
            compiled.findings.sort(&compiled.sources);
            Ok(None)
        }
        Err(refused @ CardError::Refused(_)) => Err(PipelineError::Refused(refused.to_string())),
    }
}

/// What to cut: the rows that take most lines, each where it is declared.
fn too_full(model: &Model, over: usize, largest: &[(String, usize)]) -> Diagnostic {
    let place = |id: &str| -> Option<(Span, &'static str)> {
        let item = model.find_item(id).map(|i| (model[i].span, "item"));
        item.or_else(|| model.quantities.iter().find(|q| q.id.as_str() == id).map(|q| (q.span, "quantity")))
    };
    let mut rows = largest.iter().filter_map(|(id, lines)| Some((id, *lines, place(id)?)));
    let message = format!("the quick-reference card does not fit on two sides: {over} lines are too many");
    let Some((id, lines, (span, table))) = rows.next() else {
        return Diagnostic::error("card-too-full", Span::default(), message);
    };
    let help = format!("write `off-card = true` under `[{table}.{id}]`, or under others whose rows can be spared");
    let first = Diagnostic::error("card-too-full", span, format!("{message}; the row of `{id}` takes {lines}"));
    rows.fold(first.help(help), |all, (id, lines, (span, _))| {
        all.also(span, format!("the row of `{id}` takes {lines} lines"))
    })
}
