//! Answers as text for a person: 80 columns, plain words, the same content as the JSON form.
mod due;
mod endurance;
mod layout;
mod states;
mod suspect;
mod tach;
mod trace;
mod whatif;

pub use due::due;
pub use endurance::endurance;
pub use layout::{Sheet, visible_lines};
pub use states::states;
pub use suspect::suspect;
pub use tach::tach;
pub use trace::trace;
pub use whatif::whatif;
