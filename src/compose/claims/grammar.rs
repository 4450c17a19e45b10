//! The forms of claims.

use crate::base::text::did_you_mean;
use crate::base::{Diagnostic, Quantity, Span, Spanned};
use crate::compose::composer::Composer;
use crate::compose::value::clip;
use crate::model::{AlertIx, FaultIx, InformationIx, ItemIx, MediumIx, Model, NodeIx, PositionIx, StateIx};

/// Something that is claimed.
#[derive(Debug, Clone, PartialEq)]
#[allow(missing_docs)]
pub enum Claim {
    Needs { x: NodeIx, y: Cause, negative: bool, state: StateIx },
    NeedsToStart { x: NodeIx, y: Cause, state: StateIx },
    CanUse { x: NodeIx, y: Source },
    InState { x: NodeIx, verb: StateVerb, state: StateIx },
    Takes { y: Cause, x: NodeIx, state: StateIx },
    TakesOnly { y: Cause, xs: Vec<NodeIx>, state: StateIx },
    Survives { x: NodeIx, y: Cause, state: StateIx },
    Misleads { y: Cause, x: NodeIx, state: StateIx },
    Shows { indicator: Indicator, y: Cause, state: StateIx },
    NothingShows { y: Cause, state: StateIx },
    Restores { moves: Vec<(ItemIx, PositionIx)>, x: NodeIx, y: Cause, state: StateIx },
    Lasts { x: NodeIx, time: Quantity, y: Cause, state: StateIx },
    Alone { x: NodeIx, information: InformationIx, indirectly: bool, state: StateIx },
    BacksUp { x: NodeIx, y: Cause, indirectly: bool, state: StateIx },
    Value { path: String, relation: Relation, than: Quantity },
}

/// What is lost: faults that strike together, and the thing as it was named.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Cause {
    /// All of them at once.
    pub faults: Vec<FaultIx>,
    /// The thing itself.
    pub source: Source,
}

/// A node or a medium.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Source {
    /// A node.
    Node(NodeIx),
    /// Everything that gives it.
    Medium(MediumIx),
}

/// What shows something.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Indicator {
    /// A light, flag or pointer.
    Alert(AlertIx),
    /// An instrument.
    Node(NodeIx),
}

/// How a thing is in a state.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[allow(missing_docs)]
pub enum StateVerb {
    Works,
    IsDead,
    Misleads,
}

/// How a value stands to another.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[allow(missing_docs)]
pub enum Relation {
    Is,
    AtLeast,
    AtMost,
}

impl Claim {
    /// It says that something is not so.
    pub fn is_negative(&self) -> bool {
        matches!(
            self,
            Self::Needs { negative: true, .. }
                | Self::InState { verb: StateVerb::IsDead, .. }
                | Self::NothingShows { .. }
        )
    }

    /// Ids of the things that it speaks of; not of states and numbers.
    pub fn things(&self, composer: &Composer<'_>) -> Vec<String> {
        let model = composer.model;
        let node = |n: &NodeIx| model[*n].id.clone();
        let source = |s: &Source| match s {
            Source::Node(n) => node(n),
            Source::Medium(m) => model[*m].id.to_string(),
        };
        match self {
            Self::Needs { x, y, .. }
            | Self::NeedsToStart { x, y, .. }
            | Self::Takes { x, y, .. }
            | Self::Survives { x, y, .. }
            | Self::Misleads { x, y, .. }
            | Self::Lasts { x, y, .. }
            | Self::BacksUp { x, y, .. } => vec![node(x), source(&y.source)],
            Self::CanUse { x, y } => vec![node(x), source(y)],
            Self::InState { x, .. } => vec![node(x)],
            Self::TakesOnly { y, xs, .. } => std::iter::once(source(&y.source)).chain(xs.iter().map(node)).collect(),
            Self::Shows { indicator: Indicator::Alert(a), y, .. } => vec![model[*a].id.to_string(), source(&y.source)],
            Self::Shows { indicator: Indicator::Node(n), y, .. } => vec![node(n), source(&y.source)],
            Self::NothingShows { y, .. } => vec![source(&y.source)],
            Self::Restores { moves, x, .. } => {
                moves.iter().map(|(c, _)| model[*c].id.to_string()).chain([node(x)]).collect()
            }
            Self::Alone { x, information, .. } => vec![node(x), model[*information].id.to_string()],
            Self::Value { .. } => Vec::new(),
        }
    }
}

/// Reads a claim.
///
/// # Errors
/// `claim-grammar` for a form that is none, `claim-unknown` for a name that nothing bears.
pub fn parse(composer: &Composer<'_>, claim: &Spanned<String>) -> Result<Claim, Box<Diagnostic>> {
    let mut words = words(claim);
    let mut reader = Reader { model: composer.model, composer, whole: claim.span, state: composer.reference };
    reader.take_state(&mut words)?;
    reader.claim(&words)
}

type Word = Spanned<String>;
type Read<T> = Result<T, Box<Diagnostic>>;

fn words(claim: &Spanned<String>) -> Vec<Word> {
    let mut words = Vec::new();
    let mut at = 0;
    for word in claim.value.split([' ', ',']) {
        if !word.is_empty() {
            words.push(Spanned::new(word.to_owned(), claim.span.inner(at..at + word.len())));
        }
        at += word.len() + 1;
    }
    words
}

struct Reader<'c, 'a> {
    model: &'a Model,
    composer: &'c Composer<'a>,
    whole: Span,
    state: Option<StateIx>,
}

const FORMS: &str = "write one of: `X needs Y`, `X does not need Y`, `X needs Y to start`, `X can use Y`, `X works in S`, \
    `X is dead in S`, `X misleads in S`, `losing Y takes X`, `losing Y takes only X, Z`, `X survives losing Y`, \
    `Y:fault misleads X`, `L shows when Y fails`, `nothing shows when Y fails`, `C=p restores X after Y`, \
    `X lasts 30 min after Y`, `X alone tells I`, `X backs up Y`, `V is 12 V`, `V is at least 12 V`, `V is at most 12 V`";

impl Reader<'_, '_> {
    /// Takes `in S` from the end, where it says in which state a fault is asked about.
    fn take_state(&mut self, words: &mut Vec<Word>) -> Read<()> {
        let texts: Vec<&str> = words.iter().map(|w| w.value.as_str()).collect();
        let [.., before, "in", _] = texts.as_slice() else { return Ok(()) };
        if ["works", "dead", "misleads"].contains(before) {
            return Ok(());
        }
        if let Some(state) = words.pop() {
            self.state = Some(self.state_of(&state)?);
        }
        words.pop();
        Ok(())
    }

    fn claim(&self, words: &[Word]) -> Read<Claim> {
        let texts: Vec<&str> = words.iter().map(|w| w.value.as_str()).collect();
        let w = |at: usize| &words[at];
        match texts.as_slice() {
            ["losing", _, "takes", "only", first, ..] if !first.is_empty() => {
                let xs: Read<Vec<NodeIx>> =
                    words[4..].iter().filter(|x| x.value != "and").map(|x| self.node(x)).collect();
                Ok(Claim::TakesOnly { y: self.cause(w(1), None)?, xs: xs?, state: self.state()? })
            }
            ["losing", _, "takes", _] => {
                let x = self.node(w(3))?;
                Ok(Claim::Takes { y: self.cause(w(1), Some(x))?, x, state: self.state()? })
            }
            [_, "survives", "losing", _] => {
                let x = self.node(w(0))?;
                Ok(Claim::Survives { x, y: self.cause(w(3), Some(x))?, state: self.state()? })
            }
            [_, "needs", _, "to", "start"] => {
                let x = self.node(w(0))?;
                Ok(Claim::NeedsToStart { x, y: self.cause(w(2), Some(x))?, state: self.state()? })
            }
            [_, "needs", _] => self.needs(w(0), w(2), false),
            [_, "does", "not", "need", _] => self.needs(w(0), w(4), true),
            [_, "can", "use", _] => Ok(Claim::CanUse { x: self.node(w(0))?, y: self.source(w(3))? }),
            _ => self.claim_of_state(words, &texts),
        }
    }

    fn needs(&self, x: &Word, y: &Word, negative: bool) -> Read<Claim> {
        let x = self.node(x)?;
        Ok(Claim::Needs { x, y: self.cause(y, Some(x))?, negative, state: self.state()? })
    }

    fn claim_of_state(&self, words: &[Word], texts: &[&str]) -> Read<Claim> {
        let w = |at: usize| &words[at];
        let in_state =
            |verb, state: &Word| Ok(Claim::InState { x: self.node(w(0))?, verb, state: self.state_of(state)? });
        match texts {
            [_, "works", "in", _] => in_state(StateVerb::Works, w(3)),
            [_, "is", "dead", "in", _] => in_state(StateVerb::IsDead, w(4)),
            [_, "misleads", "in", _] => in_state(StateVerb::Misleads, w(3)),
            [_, "misleads", _] => {
                Ok(Claim::Misleads { y: self.cause(w(0), None)?, x: self.node(w(2))?, state: self.state()? })
            }
            ["nothing", "shows", "when", _] | ["nothing", "shows", "when", _, "fails"] => {
                Ok(Claim::NothingShows { y: self.cause(w(3), None)?, state: self.state()? })
            }
            [_, "shows", "when", _] | [_, "shows", "when", _, "fails"] => {
                Ok(Claim::Shows { indicator: self.indicator(w(0))?, y: self.cause(w(3), None)?, state: self.state()? })
            }
            [moves @ .., "restores", _, "after", _] if !moves.is_empty() => {
                let at = moves.len();
                let moves: Read<Vec<_>> =
                    words[..at].iter().filter(|m| m.value != "and").map(|m| self.set(m)).collect();
                let (x, y) = (self.node(w(at + 1))?, self.cause(w(at + 3), None)?);
                Ok(Claim::Restores { moves: moves?, x, y, state: self.state()? })
            }
            [_, "lasts", _, _, "after", _] => {
                let time = quantity(w(2), w(3))?;
                Ok(Claim::Lasts { x: self.node(w(0))?, time, y: self.cause(w(5), None)?, state: self.state()? })
            }
            _ => self.claim_of_telling(words, texts),
        }
    }

    fn claim_of_telling(&self, words: &[Word], texts: &[&str]) -> Read<Claim> {
        let w = |at: usize| &words[at];
        match texts {
            [_, "alone", "tells", _] | [_, "alone", "tells", _, "indirectly"] => {
                let information = self.information(w(3))?;
                Ok(Claim::Alone {
                    x: self.node(w(0))?,
                    information,
                    indirectly: words.len() == 5,
                    state: self.state()?,
                })
            }
            [_, "backs", "up", _] | [_, "backs", "up", _, "indirectly"] => {
                let (x, indirectly) = (self.node(w(0))?, words.len() == 5);
                Ok(Claim::BacksUp { x, y: self.cause(w(3), Some(x))?, indirectly, state: self.state()? })
            }
            [_, "is", "at", "least", _, _] => self.value(w(0), Relation::AtLeast, w(4), w(5)),
            [_, "is", "at", "most", _, _] => self.value(w(0), Relation::AtMost, w(4), w(5)),
            [_, "is", _, _] => self.value(w(0), Relation::Is, w(2), w(3)),
            _ => {
                let diagnostic =
                    Diagnostic::error("claim-grammar", self.whole, "this claim has no form that can be proved");
                Err(Box::new(diagnostic.help(FORMS)))
            }
        }
    }

    fn value(&self, path: &Word, relation: Relation, number: &Word, unit: &Word) -> Read<Claim> {
        let than = quantity(number, unit)?;
        let Some(pulled) = self.composer.pulled(&path.value) else {
            return Err(unknown(path, "value", "pull `item.capacity` or the like, or the id of a quantity"));
        };
        if pulled.quantity.unit.dimension != than.unit.dimension {
            let (is, wanted) = (than.unit.dimension.name(), pulled.quantity.unit.dimension.name());
            let message = format!("`{}` is a {wanted}, and this is a {is}", path.value);
            let diagnostic = Diagnostic::error("claim-grammar", unit.span, message);
            return Err(Box::new(diagnostic.help(format!("give it in {}", pulled.quantity.unit.symbol))));
        }
        Ok(Claim::Value { path: path.value.clone(), relation, than })
    }

    fn state(&self) -> Read<StateIx> {
        self.state.ok_or_else(|| {
            let message = "the model names no state in which this could be asked";
            let diagnostic = Diagnostic::error("claim-unknown", self.whole, message);
            Box::new(diagnostic.help("add `in S` with a state, or `reference-state` to `[aircraft]`"))
        })
    }

    fn state_of(&self, word: &Word) -> Read<StateIx> {
        let known = || self.model.states.iter().map(|s| s.id.as_str());
        self.model.find_state(&word.value).ok_or_else(|| unknown_of(word, "state", known()))
    }

    fn node(&self, word: &Word) -> Read<NodeIx> {
        let known = || self.model.nodes.iter().map(|n| n.id.as_str());
        self.model.find_node(&word.value).ok_or_else(|| unknown_of(word, "item, function or given", known()))
    }

    fn information(&self, word: &Word) -> Read<InformationIx> {
        let known = || self.model.information.iter().map(|i| i.id.as_str());
        self.model.find_information(&word.value).ok_or_else(|| unknown_of(word, "piece of information", known()))
    }

    fn indicator(&self, word: &Word) -> Read<Indicator> {
        match self.model.find_alert(&word.value) {
            Some(alert) => Ok(Indicator::Alert(alert)),
            None => self.node(word).map(Indicator::Node),
        }
    }

    fn set(&self, word: &Word) -> Read<(ItemIx, PositionIx)> {
        let Some((control, position)) = word.value.split_once('=') else {
            let diagnostic = Diagnostic::error("claim-grammar", word.span, "a move is written `control=position`");
            return Err(Box::new(diagnostic.help(FORMS)));
        };
        let known = || self.model.controls().map(|(i, _)| self.model[i].id.as_str());
        let item = self.model.find_item(control).filter(|i| self.model.control(*i).is_some());
        let item = item.ok_or_else(|| unknown_of(&Spanned::new(control.to_owned(), word.span), "control", known()))?;
        let positions = self.model.control(item).map_or(&[][..], |c| &c.positions);
        let at = positions.iter().position(|p| p.as_str() == position).map(PositionIx::new);
        let found = at.ok_or_else(|| {
            let name = Spanned::new(position.to_owned(), word.span);
            unknown_of(&name, "position", positions.iter().map(crate::base::Id::as_str))
        })?;
        Ok((item, found))
    }

    fn source(&self, word: &Word) -> Read<Source> {
        match self.model.find_node(&word.value) {
            Some(node) => Ok(Source::Node(node)),
            None => match self.model.find_medium(&word.value) {
                Some(medium) => Ok(Source::Medium(medium)),
                None => self.node(word).map(Source::Node),
            },
        }
    }

    /// The faults that taking a thing means. Of a medium, everything that makes it fails, but not the thing that is asked about.
    fn cause(&self, word: &Word, about: Option<NodeIx>) -> Read<Cause> {
        if let Some((node, fault)) = word.value.split_once(':') {
            let named = Spanned::new(node.to_owned(), word.span);
            let node = self.node(&named)?;
            let known = || self.model.faults_of(node).map(|f| self.model[f].id.as_str());
            let found = self.model.find_fault(&word.value);
            let found =
                found.ok_or_else(|| unknown_of(&Spanned::new(fault.to_owned(), word.span), "fault", known()))?;
            return Ok(Cause { faults: vec![found], source: Source::Node(node) });
        }
        let source = self.source(word)?;
        let faults = match source {
            Source::Node(node) => self.fault_that_takes(node).into_iter().collect(),
            Source::Medium(medium) => self.faults_of_medium(medium, about),
        };
        if faults.is_empty() {
            let message = format!("the model has no fault that takes `{}`", clip(&word.value));
            let help = "claim something else, or name a fault as `item:fault`";
            return Err(Box::new(Diagnostic::error("claim-unknown", word.span, message).help(help)));
        }
        Ok(Cause { faults, source })
    }

    /// `fails` of an item or given; of a function, a fault that takes just it, else `fails` of its item.
    fn fault_that_takes(&self, node: NodeIx) -> Option<FaultIx> {
        let model = self.model;
        let holder = model.item_of(node).map_or(node, |i| model[i].node);
        let takes = |f: &FaultIx| model[*f].loses.iter().any(|e| e.what == node);
        let own = (holder != node).then(|| model.faults_of(holder).find(takes)).flatten();
        own.or_else(|| model.find_fault(&model[holder].id))
    }

    fn faults_of_medium(&self, medium: MediumIx, about: Option<NodeIx>) -> Vec<FaultIx> {
        let model = self.model;
        let conducts = |n: NodeIx| model.item_of(n).is_some_and(|i| model[i].kind.conducts());
        let asked = about.and_then(|n| model.item_of(n));
        let gives = |n: &NodeIx| {
            model[*n].gives == Some(medium) && !conducts(*n) && (asked.is_none() || model.item_of(*n) != asked)
        };
        let mut faults: Vec<FaultIx> =
            model.node_indices().filter(gives).filter_map(|n| self.fault_that_takes(n)).collect();
        faults.sort_unstable();
        faults.dedup();
        faults
    }
}

fn quantity(number: &Word, unit: &Word) -> Read<Quantity> {
    Quantity::parse(&format!("{} {}", number.value, unit.value)).map_err(|error| {
        let diagnostic = Diagnostic::error("claim-grammar", number.span, error.to_string());
        Box::new(diagnostic.help("write a number and a unit, as in `12 V`"))
    })
}

fn unknown(word: &Word, what: &str, help: &str) -> Box<Diagnostic> {
    let message = format!("no {what} is called `{}`", clip(&word.value));
    Box::new(Diagnostic::error("claim-unknown", word.span, message).help(help))
}

fn unknown_of<'m>(word: &Word, what: &str, known: impl IntoIterator<Item = &'m str>) -> Box<Diagnostic> {
    let near = did_you_mean(&word.value, known);
    let help = near.map_or_else(|| "use an id of the model".to_owned(), |n| format!("did you mean `{n}`?"));
    unknown(word, what, &help)
}
