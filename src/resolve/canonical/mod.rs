//! canonical
use crate::model::Model;
/// stub
pub fn canonical_model(_model: &Model) -> String {
    String::new()
}
