//! What every stage stands on: places in files, diagnostics, ids, quantities with units, small work on text.
//!
//! This module does not know what an aircraft is.
pub mod diagnostic;
pub mod id;
pub mod quantity;
pub mod span;
pub mod text;
pub mod unit;

pub use diagnostic::{Diagnostic, Diagnostics, Label, Severity};
pub use id::Id;
pub use quantity::{NumberRange, Quantity, QuantityError};
pub use span::{FileId, SourceFile, Sources, Span, Spanned};
pub use unit::{Dimension, Unit};
