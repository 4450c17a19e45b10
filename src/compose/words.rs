//! The noun phrases of a model: what each thing is called, with its articles.

use super::phrase::NounPhrase;
use crate::model::{AlertIx, InformationIx, ItemIx, MediumIx, Model, Node, NodeIx, NodeKind, Noun, StateIx, SystemIx};

/// Noun phrases of everything that a guide can name.
#[derive(Debug)]
pub struct Words {
    nodes: Vec<NounPhrase>,
    own: Vec<NounPhrase>,
    alerts: Vec<NounPhrase>,
    information: Vec<NounPhrase>,
    states: Vec<NounPhrase>,
    systems: Vec<NounPhrase>,
    media: Vec<NounPhrase>,
}

impl Words {
    /// The words of a model.
    pub fn new(model: &Model) -> Self {
        Self {
            nodes: model.nodes.iter().map(|n| node_phrase(model, n)).collect(),
            own: model.nodes.iter().map(|n| noun_phrase(&n.id, &n.noun)).collect(),
            alerts: model.alerts.iter().map(|a| noun_phrase(a.id.as_str(), &a.noun)).collect(),
            information: model.information.iter().map(|i| mass_phrase(i.id.as_str(), &i.noun)).collect(),
            states: model.states.iter().map(|s| bare(s.id.as_str(), &s.name)).collect(),
            systems: model.systems.iter().map(|s| system_phrase(s.id.as_str(), &s.name)).collect(),
            media: model.media.iter().map(|m| bare(m.id.as_str(), &m.name)).collect(),
        }
    }

    /// A node; a function with its item.
    pub fn node(&self, ix: NodeIx) -> &NounPhrase {
        &self.nodes[ix.usize()]
    }

    /// A node by its own name: a function without its item.
    pub fn own(&self, ix: NodeIx) -> &NounPhrase {
        &self.own[ix.usize()]
    }

    /// An item.
    pub fn item(&self, model: &Model, ix: ItemIx) -> &NounPhrase {
        self.node(model[ix].node)
    }

    /// Several nodes.
    pub fn nodes(&self, nodes: &[NodeIx]) -> Vec<&NounPhrase> {
        nodes.iter().map(|n| self.node(*n)).collect()
    }

    /// An alert.
    pub fn alert(&self, ix: AlertIx) -> &NounPhrase {
        &self.alerts[ix.usize()]
    }

    /// A piece of information.
    pub fn information(&self, ix: InformationIx) -> &NounPhrase {
        &self.information[ix.usize()]
    }

    /// A state.
    pub fn state(&self, ix: StateIx) -> &NounPhrase {
        &self.states[ix.usize()]
    }

    /// A system.
    pub fn system(&self, ix: SystemIx) -> &NounPhrase {
        &self.systems[ix.usize()]
    }

    /// A medium.
    pub fn medium(&self, ix: MediumIx) -> &NounPhrase {
        &self.media[ix.usize()]
    }

    /// Whatever bears that id: node, alert, information, state, system or medium, in this order.
    pub fn find(&self, id: &str) -> Option<&NounPhrase> {
        let lists = [&self.nodes, &self.alerts, &self.information, &self.states, &self.systems, &self.media];
        lists.into_iter().flatten().find(|n| n.id == id)
    }

    /// Every id that can be named.
    pub fn ids(&self) -> impl Iterator<Item = &str> {
        let lists = [&self.nodes, &self.alerts, &self.information, &self.states, &self.systems, &self.media];
        lists.into_iter().flatten().map(|n| n.id.as_str())
    }
}

fn node_phrase(model: &Model, node: &Node) -> NounPhrase {
    let NodeKind::Function(item, _) = node.kind else { return noun_phrase(&node.id, &node.noun) };
    let item = &model[model[item].node].noun;
    let of = definite(item);
    let own = &node.noun;
    let name = format!("{} of {of}", own.name);
    NounPhrase::new(
        &*node.id,
        &name,
        &format!("{} of {of}", definite(own)),
        &format!("{} of {of}", indefinite(own)),
        own.plural,
    )
}

fn noun_phrase(id: &str, noun: &Noun) -> NounPhrase {
    NounPhrase::new(id, &noun.name, &definite(noun), &indefinite(noun), noun.plural)
}

/// A name that takes no article.
fn bare(id: &str, name: &str) -> NounPhrase {
    NounPhrase::new(id, name, name, name, false)
}

/// What is known is no thing that can be counted ("bank", "rate of turn"), unless its author gives it an article.
fn mass_phrase(id: &str, noun: &Noun) -> NounPhrase {
    match noun.article.as_deref() {
        Some(article) if !article.is_empty() => noun_phrase(id, noun),
        _ => NounPhrase::new(id, &noun.name, &noun.name, &noun.name, noun.plural),
    }
}

fn system_phrase(id: &str, name: &str) -> NounPhrase {
    let whole = if name.ends_with("system") { name.to_owned() } else { format!("{name} system") };
    NounPhrase::new(id, name, &format!("the {whole}"), &with_indefinite(&whole, &whole), false)
}

/// An empty article in the model says that the name takes none at all.
fn definite(noun: &Noun) -> String {
    if noun.article.as_deref() == Some("") { noun.name.clone() } else { format!("the {}", noun.name) }
}

fn indefinite(noun: &Noun) -> String {
    match noun.article.as_deref() {
        Some("") => noun.name.clone(),
        Some(article) => format!("{article} {}", noun.name),
        None if noun.plural => noun.name.clone(),
        None => with_indefinite(&noun.name, noun.said.as_deref().unwrap_or(&noun.name)),
    }
}

fn with_indefinite(name: &str, said: &str) -> String {
    let article = if begins_with_vowel_sound(said) { "an" } else { "a" };
    format!("{article} {name}")
}

/// Whether a word is spoken with a vowel first. Initials are spoken as letters: "an ELT", "a VOR receiver".
fn begins_with_vowel_sound(said: &str) -> bool {
    let word = said.split([' ', '-']).next().unwrap_or("");
    let letters: String = word.chars().filter(char::is_ascii_alphabetic).collect();
    if !letters.is_empty() && letters.chars().all(|c| c.is_ascii_uppercase()) {
        return letters.starts_with(['A', 'E', 'F', 'H', 'I', 'L', 'M', 'N', 'O', 'R', 'S', 'X']);
    }
    let word = word.to_ascii_lowercase();
    let you = ["uni", "use", "usu", "uti", "eu", "ura", "one", "once"];
    let silent = ["hour", "honest", "heir"];
    silent.iter().any(|s| word.starts_with(s))
        || (word.starts_with(['a', 'e', 'i', 'o', 'u', '8']) && !you.iter().any(|s| word.starts_with(s)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn article_follows_the_sound_and_not_the_letter() {
        let cases = [
            ("alternator", "an alternator"),
            ("vacuum pump", "a vacuum pump"),
            ("ELT", "an ELT"),
            ("VOR receiver", "a VOR receiver"),
            ("hour meter", "an hour meter"),
            ("unit", "a unit"),
            ("NAV 1", "a NAV 1"),
        ];
        for (name, wanted) in cases {
            let said = if name == "NAV 1" { "nav one" } else { name };
            assert_eq!(with_indefinite(name, said), wanted);
        }
    }
}
