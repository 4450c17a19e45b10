//! `check`: everything short of writing.

use super::answers::VERSION;
use super::arguments::{CheckArguments, FindingFormat};
use super::console::{Console, Stop};
use super::findings::{self, CheckAnswer, SentenceCount};
use super::text::Sheet;
use super::{guide, place};
use crate::base::Sources;
use crate::doc::ClaimedSentence;
use crate::pipeline::{self, Compiled, Until};
use schemars::JsonSchema;
use serde::Serialize;

/// Runs the verb.
///
/// # Errors
/// [`Stop::Findings`] where there are errors, or warnings with `--strict`.
pub fn run(arguments: &CheckArguments, console: &mut Console<'_>) -> Result<(), Stop> {
    let aircraft = place::find(&arguments.aircraft)?;
    let compiled = pipeline::compile(&guide::request(&aircraft, Until::Proved, arguments.strict))?;
    if arguments.claims {
        return claims(arguments, &compiled, console);
    }
    match arguments.format {
        FindingFormat::Json => console.json(&answer(&aircraft.named, &compiled))?,
        FindingFormat::Human if arguments.json => console.json(&answer(&aircraft.named, &compiled))?,
        FindingFormat::Sarif => {
            let explain = |code: &str| super::explain::text(code);
            console.json(&findings::sarif(&compiled.findings, &compiled.sources, &explain))?;
        }
        FindingFormat::Human => {
            guide::tell(&compiled, arguments.strict, console)?;
            console.answer(&all_well(&aircraft.named, &compiled))?;
        }
    }
    if compiled.is_stopped(arguments.strict) { Err(Stop::Findings) } else { Ok(()) }
}

fn answer(named: &str, compiled: &Compiled) -> CheckAnswer {
    CheckAnswer::new(named, &compiled.findings, &compiled.prose, &compiled.sources)
}

fn all_well(named: &str, compiled: &Compiled) -> String {
    let claims = compiled.prose.claims.len();
    let chapters = compiled.document.as_ref().map_or(0, |d| d.chapters.len());
    let items = compiled.document.as_ref().map_or(0, |d| d.meta.items);
    let findings = findings::summary(&compiled.findings).unwrap_or_else(|| "nothing to say".to_owned());
    let counted = [(items, "item"), (chapters, "chapter"), (claims, "claim")];
    let [items, chapters, claims] = counted.map(|(n, word)| format!("{n} {word}{}", if n == 1 { "" } else { "s" }));
    let SentenceCount { all, tied, untied } = SentenceCount::new(&compiled.prose);
    let sentences = format!("of {all} sentences {tied} are tied to the model and {untied} are not");
    format!("{named}: {items}, {chapters}, {claims} proved; {sentences}; {findings}.")
}

/// The answer of `check --claims --json`.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct ClaimsAnswer {
    /// Version of this interface.
    pub ribstitch: u32,
    /// The aircraft as it was named in the call.
    pub aircraft: String,
    /// Every claim, in the order of the book.
    pub claims: Vec<ProvedClaim>,
}

/// One sentence beside what was proved of it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct ProvedClaim {
    /// File of the chapter.
    pub file: String,
    /// Line of the claim, from one.
    pub line: usize,
    /// The sentence.
    pub sentence: String,
    /// What was proved.
    pub claim: String,
}

impl ProvedClaim {
    fn new(claimed: &ClaimedSentence, sources: &Sources) -> Self {
        let (file, (line, _)) = (sources.name(claimed.span.file).to_owned(), sources.line_column(claimed.span));
        Self { file, line, sentence: claimed.sentence.clone(), claim: claimed.claim.clone() }
    }
}

/// A claim proves its target, not the English: these are for a person to read.
fn claims(arguments: &CheckArguments, compiled: &Compiled, console: &mut Console<'_>) -> Result<(), Stop> {
    guide::tell(compiled, arguments.strict, console)?;
    let sources = &compiled.sources;
    let claims: Vec<ProvedClaim> = compiled.prose.claims.iter().map(|c| ProvedClaim::new(c, sources)).collect();
    if arguments.json || arguments.format == FindingFormat::Json {
        let aircraft = arguments.aircraft.to_string_lossy().into_owned();
        return console.json(&ClaimsAnswer { ribstitch: VERSION, aircraft, claims });
    }
    let mut sheet = Sheet::default();
    for claim in &claims {
        sheet.gap();
        sheet.paragraph(0, &claim.sentence);
        sheet.paragraph(4, &format!("{} ({}:{})", claim.claim, claim.file, claim.line));
    }
    console.answer(&sheet.finish())
}
