//! A model without errors, for the verbs that ask it something.

use super::asked::Asked;
use super::console::{Console, Stop};
use super::findings;
use super::place;
use crate::analyse::network::Analysis;
use crate::base::{Diagnostics, Sources};
use crate::model::Model;
use crate::{check, resolve};
use std::path::Path;

/// A model without errors, and the files that it came from.
pub struct Sound {
    /// The model.
    pub model: Model,
    sources: Sources,
}

impl Sound {
    /// Reads the model of an aircraft. Warnings are for `check` to tell.
    ///
    /// # Errors
    /// [`Stop::Findings`] where the model has errors; they were shown.
    pub fn read(named: &Path, console: &mut Console<'_>) -> Result<Self, Stop> {
        let aircraft = place::find(named)?;
        let mut sources = Sources::default();
        let (model, mut found) = resolve::load(&aircraft.path, &mut sources);
        if let Some(model) = &model {
            found.append(check::model::check(model, &Analysis::new(model), &sources));
        }
        found.sort(&sources);
        match model {
            Some(model) if !found.has_errors() => Ok(Self { model, sources }),
            _ => Err(complain(&found, &sources, console)),
        }
    }

    /// Turns ids of the command line into things of the model.
    ///
    /// # Errors
    /// [`Stop::Findings`] where one of them is not known; it was shown.
    pub fn ask<T>(
        &mut self,
        console: &mut Console<'_>,
        of: impl FnOnce(&mut Asked<'_>) -> Option<T>,
    ) -> Result<T, Stop> {
        let mut asked = Asked::new(&self.model, &mut self.sources);
        let found = of(&mut asked);
        let findings = asked.findings;
        found.ok_or_else(|| complain(&findings, &self.sources, console))
    }
}

fn complain(found: &Diagnostics, sources: &Sources, console: &mut Console<'_>) -> Stop {
    console.complain(&findings::human(found, sources, console.colour));
    Stop::Findings
}
