//! The panel as the canonical text has it: where each face is, how large, and what its scale says.

use super::amount::Amount;
use super::fields::Fields;
use std::collections::BTreeMap;
use toml::Table;

/// The panel.
#[derive(Debug, Default)]
pub(super) struct Board {
    /// Width, mm; nothing where there is no panel.
    pub(super) width: f64,
    /// Faces by id of the item.
    pub(super) faces: BTreeMap<String, BoardFace>,
}

/// One face: middle and size in mm from the upper left corner of the panel.
#[derive(Debug, Default)]
pub(super) struct BoardFace {
    pub(super) at: (f64, f64),
    pub(super) size: (f64, f64),
    pub(super) face: String,
    pub(super) scale: Option<BoardScale>,
}

/// A scale in its own unit.
#[derive(Debug, Default)]
pub(super) struct BoardScale {
    pub(super) from: f64,
    pub(super) to: f64,
    pub(super) rests: Option<f64>,
    pub(super) usual: Option<f64>,
    pub(super) unfed: Option<String>,
}

impl Board {
    /// Reads it from the model part of the canonical text.
    ///
    /// # Errors
    /// The place of the first thing that is missing or of the wrong type.
    pub(super) fn read(table: &Table) -> Result<Self, String> {
        let whole = Fields::new(table, String::new());
        let Some(panel) = whole.inner("panel")? else { return Ok(Self::default()) };
        let mut board = Self { width: pair(&panel, "size")?.0, faces: BTreeMap::new() };
        for (id, item) in whole.each("item")? {
            let Some(place) = item.inner("panel")? else { continue };
            let scale = item.inner("scale")?.map(|s| scale(&s)).transpose()?.flatten();
            let (at, size) = (pair(&place, "at")?, pair(&place, "size")?);
            let face = place.text("face")?.unwrap_or_default();
            board.faces.insert(id.to_owned(), BoardFace { at, size, face, scale });
        }
        Ok(board)
    }
}

/// `["120 mm", "90 mm"]`, or `"80 mm"` for both.
fn pair(fields: &Fields, key: &str) -> Result<(f64, f64), String> {
    let texts = match fields.get(key) {
        Some(toml::Value::String(one)) => vec![one.clone(), one.clone()],
        _ => fields.texts(key)?,
    };
    let mm = |text: &String| Amount::read(text).and_then(|a| a.number_in("mm"));
    match texts.iter().map(mm).collect::<Vec<_>>().as_slice() {
        [Some(x), Some(y)] => Ok((*x, *y)),
        _ => Err(format!("{}: two lengths are expected", fields.at(key))),
    }
}

fn scale(fields: &Fields) -> Result<Option<BoardScale>, String> {
    let span = fields.required("span")?;
    let Some((numbers, unit)) = span.split_once(' ') else { return Ok(None) };
    let ends: Vec<f64> = numbers.split("..").filter_map(|n| n.trim().parse().ok()).collect();
    let [from, to] = ends.as_slice() else { return Ok(None) };
    let on_it = |key: &str| -> Result<Option<f64>, String> {
        Ok(fields.text(key)?.and_then(|text| Amount::read(&text)).and_then(|a| a.number_in(unit.trim())))
    };
    let (rests, usual) = (on_it("rests")?, on_it("usual")?);
    Ok(Some(BoardScale { from: *from, to: *to, rests, usual, unfed: fields.text("unfed")? }))
}
