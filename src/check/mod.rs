//! stub
pub mod model { use crate::base::*; use crate::model::*; use crate::analyse::network::Analysis; pub fn check(_:&Model,_:&Analysis<'_>)->Diagnostics{Diagnostics::default()} }
pub mod book { use crate::base::*; use crate::model::*; pub fn check(_: &crate::doc::Prose, _:&Model,_:&Sources)->Diagnostics{Diagnostics::default()} }
pub fn explain(_: &str) -> Option<String> { None }
pub fn codes() -> Vec<&'static str> { vec![] }
