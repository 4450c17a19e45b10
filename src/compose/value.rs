//! Inline calls: names, values, counts.

use super::composer::{Composer, plain_number};
use super::phrase::NounPhrase;
use super::say::quoted;
use crate::base::text::{did_you_mean, join_list};
use crate::base::{Quantity, Span, Spanned};
use crate::doc::{Fact, FactOrigin, Inline, Inlines};
use crate::model::{How, Lasts, Need, NodeIx};
use crate::parse::book::Call;

/// A number that can be pulled: what it is about, which side of it, the number and where it stands.
pub struct Pulled<'a> {
    /// Id for the ledger.
    pub subject: String,
    /// `capacity`, `value`, `reference`.
    pub aspect: &'static str,
    /// The number.
    pub quantity: &'a Quantity,
    /// Where it is declared.
    pub span: Span,
}

/// Sides of an item that can be pulled.
const SIDES: [&str; 5] = ["draws", "rating", "capacity", "voltage", "lasts"];

impl<'a> Composer<'a> {
    /// The inlines of an inline call; nothing, with an error kept, if it means nothing.
    pub fn inline_call(&mut self, call: &Call) -> Inlines {
        let Some(of) = call.get("of") else { return Inlines::new() };
        match call.rule.name {
            "name" => self.noun(of, |n| n.name.clone()),
            "the" => self.noun(of, |n| n.the.clone()),
            "The" => self.noun(of, |n| crate::base::text::capitalise(&n.the)),
            "a" => self.noun(of, |n| n.a.clone()),
            "value" => self.value(of),
            "aircraft" => self.aircraft(of),
            "telling" => self.telling(of),
            "fed_by" => self.fed_by(of),
            "count" => self.counted(of),
            "tag" => self.tag(of),
            _ => Inlines::new(),
        }
    }

    fn noun(&mut self, of: &Spanned<String>, form: fn(&NounPhrase) -> String) -> Inlines {
        match self.words.find(&of.value) {
            Some(noun) => vec![Inline::name(&noun.id, form(noun))],
            None => self.unknown_name(of),
        }
    }

    /// Keeps the error that nothing bears a name.
    pub fn unknown_name(&mut self, of: &Spanned<String>) -> Inlines {
        let near = did_you_mean(&of.value, self.words.ids());
        let help = near.map_or_else(|| "use an id of the model".to_owned(), |n| format!("did you mean `{n}`?"));
        let message = format!("nothing in the model is called `{}`", clip(&of.value));
        self.error("name-unknown", of.span, message, help);
        Inlines::new()
    }

    /// A number of the model by its path: `battery.capacity`, `transponder.code.draws`, a quantity, `time.reference`.
    pub fn pulled(&self, path: &str) -> Option<Pulled<'a>> {
        let model = self.model;
        if path == "time.reference" {
            let time = model.time.as_ref()?;
            let quantity = time.reference.as_ref()?;
            return Some(Pulled { subject: "time".to_owned(), aspect: "reference", quantity, span: time.span });
        }
        if let Some(named) = model.quantities.iter().find(|q| q.id.as_str() == path) {
            let subject = format!("quantity/{path}");
            return Some(Pulled { subject, aspect: "value", quantity: &named.value, span: named.span });
        }
        let (of, side) = path.rsplit_once('.')?;
        let aspect = SIDES.into_iter().find(|s| *s == side)?;
        let node = &model[model.find_node(of)?];
        let item = model.find_item(of).map(|i| &model[i]);
        let quantity = match aspect {
            "draws" => node.draws.as_ref(),
            "rating" => item?.rating.as_ref(),
            "capacity" => item?.capacity.as_ref(),
            "voltage" => item?.voltage.as_ref(),
            _ => match node.lasts.as_ref()? {
                Lasts::Stated(quantity) => Some(quantity),
                Lasts::Result(_) => None,
            },
        };
        Some(Pulled { subject: of.to_owned(), aspect, quantity: quantity?, span: node.span })
    }

    fn value(&mut self, of: &Spanned<String>) -> Inlines {
        if let Some(time) = self.time_computed(&of.value) {
            return vec![time];
        }
        let Some(pulled) = self.pulled(&of.value) else {
            let known: Vec<String> = self.value_paths();
            let near = did_you_mean(&of.value, known.iter().map(String::as_str));
            let help = near.map_or_else(
                || {
                    "pull `item.draws`, `.rating`, `.capacity`, `.voltage` or `.lasts`, or the id of a quantity"
                        .to_owned()
                },
                |n| format!("did you mean `{n}`?"),
            );
            let message = format!("the model holds no value `{}`", clip(&of.value));
            self.error("value-unknown", of.span, message, help);
            return Inlines::new();
        };
        vec![self.quantity(&pulled.subject, pulled.aspect, pulled.quantity, pulled.span)]
    }

    /// `battery.lasts` where that is computed.
    fn time_computed(&mut self, path: &str) -> Option<Inline> {
        let id = path.strip_suffix(".lasts")?;
        let node = self.model.find_node(id).filter(|n| matches!(self.model[*n].lasts, Some(Lasts::Result(_))))?;
        let minutes = self.analysis.lasts_min(node)?;
        Some(self.show(Fact {
            id: path.replace('.', "/"),
            subject: id.to_owned(),
            aspect: "lasts".to_owned(),
            value: Some(minutes),
            unit: Some("min".to_owned()),
            shown: format!("{} min", plain_number(minutes)),
            rounding: Some("rounded down to whole minutes".to_owned()),
            origin: FactOrigin::Computed { method: "phases of [endurance]", inputs: Vec::new() },
        }))
    }

    fn value_paths(&self) -> Vec<String> {
        let sides = |n: &crate::model::Node| SIDES.iter().map(move |s| format!("{}.{s}", n.id)).collect::<Vec<_>>();
        let items = self.model.nodes.iter().flat_map(sides).filter(|p| self.pulled(p).is_some());
        let quantities = self.model.quantities.iter().map(|q| q.id.to_string());
        items.chain(quantities).chain(["time.reference".to_owned()]).collect()
    }

    fn aircraft(&mut self, of: &Spanned<String>) -> Inlines {
        let aircraft = &self.model.aircraft;
        let quote = |text: &str| vec![quoted(format!("aircraft/{}", of.value), text)];
        match of.value.as_str() {
            "name" => vec![Inline::name("aircraft", &aircraft.name)],
            "maker" => quote(&aircraft.maker),
            "registration" => quote(aircraft.registration.as_deref().unwrap_or(&aircraft.name)),
            "revision" => quote(&aircraft.revision.to_string()),
            "date" => quote(&aircraft.date),
            "handbook" => quote(&aircraft.handbook),
            _ => {
                let known = ["name", "maker", "registration", "revision", "date", "handbook"];
                self.unknown_choice(of, &known)
            }
        }
    }

    fn unknown_choice(&mut self, of: &Spanned<String>, known: &[&str]) -> Inlines {
        let message = format!("`{}` cannot be asked for here", clip(&of.value));
        self.error("call-argument", of.span, message, format!("write one of {}", join_list(known, "or")));
        Inlines::new()
    }

    fn telling(&mut self, of: &Spanned<String>) -> Inlines {
        let Some(information) = self.model.find_information(&of.value) else { return self.unknown_name(of) };
        let mut found: Vec<(How, NodeIx)> = Vec::new();
        for node in self.model.node_indices() {
            let tells = self.model[node].tells.iter().find(|t| t.information == information);
            found.extend(tells.map(|t| (t.how, node)));
        }
        let rank = |n: NodeIx| self.model[information].prefer.iter().position(|p| *p == n).unwrap_or(usize::MAX);
        found.sort_by_key(|(how, node)| (*how, rank(*node), *node));
        self.spoken_list(&found.into_iter().map(|(_, n)| n).collect::<Vec<_>>())
    }

    fn fed_by(&mut self, of: &Spanned<String>) -> Inlines {
        let Some(source) = self.model.find_node(&of.value) else { return self.unknown_name(of) };
        let is_fed = |n: &NodeIx| self.model[*n].needs.iter().flat_map(Need::feeds).any(|f| f.from == source);
        let fed: Vec<NodeIx> = self.model.node_indices().filter(is_fed).collect();
        self.spoken_list(&fed)
    }

    /// `the a, the b and the c`; `nothing` for none.
    fn spoken_list(&self, nodes: &[NodeIx]) -> Inlines {
        let mut line = Inlines::new();
        for (at, node) in nodes.iter().enumerate() {
            match at {
                0 => {}
                _ if at + 1 == nodes.len() => line.push(Inline::text(" and ")),
                _ => line.push(Inline::text(", ")),
            }
            let noun = self.words.node(*node);
            line.push(Inline::name(&noun.id, &noun.the));
        }
        if line.is_empty() { vec![Inline::text("nothing")] } else { line }
    }

    /// The two letters of a medium in drawings.
    fn tag(&mut self, of: &Spanned<String>) -> Inlines {
        let model = self.model;
        let Some(medium) = model.media.iter().find(|m| m.id.as_str() == of.value) else {
            let near = did_you_mean(&of.value, model.media.iter().map(|m| m.id.as_str()));
            let help = near.map_or_else(|| "use the id of a medium".to_owned(), |n| format!("did you mean `{n}`?"));
            let message = format!("no medium is called `{}`", clip(&of.value));
            self.error("name-unknown", of.span, message, help);
            return Inlines::new();
        };
        vec![self.show(Fact {
            id: format!("{}/tag", medium.id),
            subject: medium.id.to_string(),
            aspect: "tag".to_owned(),
            value: None,
            unit: None,
            shown: medium.tag.clone(),
            rounding: None,
            origin: FactOrigin::Computed { method: "tag of a medium", inputs: Vec::new() },
        })]
    }

    fn counted(&mut self, of: &Spanned<String>) -> Inlines {
        let model = self.model;
        let number = match of.value.as_str() {
            "items" => model.items.len(),
            "systems" => model.systems.len(),
            "breakers" => model.items.iter().filter(|i| i.kind == crate::model::Kind::Breaker).count(),
            "controls" => model.controls().filter(|(i, _)| !model[*i].kind.protects()).count(),
            "states" => model.states.len(),
            "confirmed" => model.items.iter().filter(|i| i.seen.is_some()).count(),
            _ => {
                let known = ["items", "systems", "breakers", "controls", "states", "confirmed"];
                return self.unknown_choice(of, &known);
            }
        };
        vec![self.count(&of.value, number)]
    }

    /// True if the aircraft has an item, function, system, given or state of that id.
    pub fn has(&self, id: &str) -> bool {
        let model = self.model;
        model.find_node(id).is_some()
            || model.find_state(id).is_some()
            || model.systems.iter().any(|s| s.id.as_str() == id)
    }
}

/// What an author wrote, short enough to say back.
pub fn clip(text: &str) -> String {
    text.chars().take(60).collect()
}
