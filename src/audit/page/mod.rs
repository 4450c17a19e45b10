//! The finished page, read once: what a reader sees, in chapters, tables and lines, and what a browser would run.

pub(in crate::audit) mod figure;
mod grid;
mod plot;
mod seen;

pub(super) use figure::{Drawn, DrawnPanel, Spot};
pub(super) use grid::{Cell, Grid};
pub(super) use plot::{Letters, Line as PlottedLine, Plotted, Sort as PlottedSort};
pub(super) use seen::lines;

use scraper::node::Element;
use scraper::{ElementRef, Html};

/// One element with the chapter that it stands in.
pub(super) type Place = String;

/// A part of the page that a reader would call a page of its own: the cover or a chapter.
#[derive(Debug, Default)]
pub(super) struct Part {
    /// `Cover`, or the number and title of a chapter.
    pub(super) name: Place,
    /// Its id, to find it by.
    pub(super) id: String,
    /// Whether it is a chapter.
    pub(super) chapter: bool,
    /// Every line in it that is seen.
    pub(super) lines: Vec<String>,
}

/// A sum worked line by line.
#[derive(Debug, Default)]
pub(super) struct Sum {
    pub(super) place: Place,
    pub(super) title: String,
    pub(super) lines: Vec<String>,
}

/// A drawing as the page names it.
#[derive(Debug)]
pub(super) struct Figure {
    pub(super) id: String,
    /// The first line of its caption.
    pub(super) title: String,
}

/// A heading below the title of a chapter.
#[derive(Debug)]
pub(super) struct Heading {
    pub(super) place: Place,
    pub(super) id: String,
    pub(super) text: String,
}

/// A run of text that the page ties to something of the model.
#[derive(Debug)]
pub(super) struct Tied {
    pub(super) place: Place,
    /// What it is tied to: a fact or a thing.
    pub(super) to: String,
    /// Whether it is a number.
    pub(super) number: bool,
    /// What is seen.
    pub(super) text: String,
}

/// An element that is not as a page should have it.
#[derive(Debug)]
pub(super) struct Odd {
    pub(super) code: &'static str,
    pub(super) place: Place,
    pub(super) what: String,
}

/// Where the walk through the page stands.
#[derive(Debug, Clone)]
struct Here {
    place: Place,
    /// Inside the cover or a chapter.
    read: bool,
    in_table: bool,
    /// Inside something that is out of sight.
    unseen: bool,
}

/// The page.
#[derive(Debug, Default)]
pub(super) struct Page {
    pub(super) parts: Vec<Part>,
    pub(super) grids: Vec<Grid>,
    pub(super) drawn: Vec<Drawn>,
    pub(super) plots: Vec<Plotted>,
    /// Middles and sizes of the faces that drawings of the panel share.
    pub(super) outlines: Vec<(Spot, Spot)>,
    pub(super) sums: Vec<Sum>,
    pub(super) figures: Vec<Figure>,
    pub(super) headings: Vec<Heading>,
    pub(super) tied: Vec<Tied>,
    pub(super) scripts: Vec<String>,
    pub(super) styles: Vec<String>,
    pub(super) policies: Vec<String>,
    pub(super) carried: Vec<String>,
    pub(super) ids: Vec<String>,
    pub(super) links: Vec<(Place, String)>,
    pub(super) odd: Vec<Odd>,
}

/// Elements that load, run or embed something.
const ACTIVE: &[&str] = &[
    "iframe",
    "frame",
    "frameset",
    "object",
    "embed",
    "applet",
    "base",
    "form",
    "link",
    "audio",
    "video",
    "source",
    "track",
    "img",
    "picture",
    "image",
    "feimage",
    "foreignobject",
    "animate",
    "animatetransform",
    "animatemotion",
    "set",
    "portal",
    "noscript",
    "math",
    "marquee",
    "dialog",
    "slot",
];

/// Attributes that hold ids of the same page.
const POINTERS: &[&str] = &["aria-labelledby", "aria-controls", "aria-describedby", "for"];

impl Page {
    /// Reads a page.
    pub(super) fn read(html: &str) -> Self {
        let tree = Html::parse_document(html);
        let mut page = Self::default();
        page.walk(tree.root_element(), &Here { place: "Page".to_owned(), read: false, in_table: false, unseen: false });
        page
    }

    fn walk(&mut self, node: ElementRef<'_>, here: &Here) {
        let element = node.value();
        let name = element.name();
        self.note_attributes(element, name, &here.place);
        match name {
            "script" => return self.scripts.push(raw_text(node)),
            "style" => return self.styles.push(raw_text(node)),
            "template" => return self.carried.push(raw_text(node)),
            "meta" if element.attr("http-equiv").is_some() => self.note_policy(element, &here.place),
            _ if ACTIVE.contains(&name.to_ascii_lowercase().as_str()) => {
                self.note_odd("active-content", &here.place, format!("<{name}>"));
            }
            _ => {}
        }
        let mut here = here.clone();
        self.note_sight(element, &mut here);
        if !here.unseen {
            self.read_element(node, &mut here);
        }
        here.in_table |= name == "table";
        node.child_elements().for_each(|child| self.walk(child, &here));
    }

    /// What is hidden on the page: the search until its script shows it, and what stands in words beside a drawing; no more.
    fn note_sight(&mut self, element: &Element, here: &mut Here) {
        let hidden = element.attr("hidden").is_some();
        let aside = ["skip", "strip", "found", "seek"].iter().any(|class| has_class(element, class));
        let search = element.attr("id").is_some_and(|id| matches!(id, "page/tools" | "page/found"));
        if hidden && (here.read || !search) || aside && here.read {
            let what = format!("<{}> is out of sight", element.name());
            self.note_odd("hidden", &here.place, what);
        }
        here.unseen |= hidden || element.name() == "details";
    }

    fn read_element(&mut self, node: ElementRef<'_>, here: &mut Here) {
        let element = node.value();
        if let Some(part) = Part::begun(node, element) {
            here.place.clone_from(&part.name);
            here.read = true;
            self.parts.push(part);
        }
        if element.name() == "table" {
            self.grids.push(Grid::read(node, &here.place));
        }
        let id = element.attr("id").unwrap_or_default().to_owned();
        match element.name() {
            "figure" => {
                self.figures.push(Figure { id, title: title_of(node) });
                self.drawn.push(Drawn::read(node, &here.place));
                self.plots.extend(Plotted::read(node, &here.place));
            }
            "defs" => self.outlines.extend(node.descendent_elements().filter_map(|e| figure::faces(e.value()))),
            "h3" | "h4" | "h5" if here.read => {
                self.headings.push(Heading { place: here.place.clone(), id, text: lines(node).join(" ") });
            }
            _ => {}
        }
        if has_class(element, "worked") {
            self.sums.push(Sum::read(node, &here.place));
        }
        if has_class(element, "mark") {
            self.note_sign(node, &here.place);
        }
        self.tied.extend((!here.in_table).then(|| Tied::read(node, element, &here.place)).flatten());
    }

    /// A sign is drawn by its class and stands with its word.
    fn note_sign(&mut self, node: ElementRef<'_>, place: &Place) {
        let word = lines(node).join(" ");
        let class = format!("mark-{}", word.replace(' ', "-"));
        let signs: Vec<&str> = node.value().classes().filter(|c| c.starts_with("mark-")).collect();
        if signs != [class.as_str()] {
            self.note_odd("sign-wrong", place, format!("the sign {} with the word “{word}”", signs.join(" ")));
        }
    }

    fn note_odd(&mut self, code: &'static str, place: &Place, what: String) {
        self.odd.push(Odd { code, place: place.clone(), what });
    }

    fn note_attributes(&mut self, element: &Element, tag: &str, place: &Place) {
        for (key, value) in element.attrs() {
            match key {
                "id" => self.ids.push(value.to_owned()),
                "href" => self.links.push((place.clone(), value.to_owned())),
                _ if POINTERS.contains(&key) => {
                    let each = value.split_whitespace().map(|id| (place.clone(), format!("#{id}")));
                    self.links.extend(each);
                }
                _ if is_active(key, value) => {
                    self.note_odd("active-content", place, format!("<{tag} {key}=\"{value}\">"));
                }
                _ => {}
            }
        }
    }

    fn note_policy(&mut self, element: &Element, place: &Place) {
        let what = element.attr("http-equiv").unwrap_or_default();
        let content = element.attr("content").unwrap_or_default();
        if what.eq_ignore_ascii_case("content-security-policy") {
            self.policies.push(content.to_owned());
        } else {
            self.note_odd("active-content", place, format!("<meta http-equiv=\"{what}\">"));
        }
    }
}

/// Attributes that run or load something, or dress an element past the style sheet.
fn is_active(key: &str, value: &str) -> bool {
    let loads = ["src", "srcset", "srcdoc", "action", "formaction", "ping", "background", "poster", "data", "style"];
    let local =
        |v: &str| v.match_indices("url(").all(|(at, _)| v[at + 4..].trim_start_matches(['"', '\'']).starts_with('#'));
    key.starts_with("on") || loads.contains(&key) || !local(value) || value.trim_start().starts_with("javascript:")
}

/// Whether a class is among those of an element.
pub(super) fn has_class(element: &Element, class: &str) -> bool {
    element.classes().any(|c| c == class)
}

/// The text in an element, seen or not.
fn raw_text(node: ElementRef<'_>) -> String {
    node.descendants().filter_map(|n| n.value().as_text()).map(|t| t.to_string()).collect()
}

impl Page {
    /// What is told beside drawings to those who do not see them.
    pub(super) fn drawn_words(&self) -> impl Iterator<Item = &String> {
        let told = self.plots.iter().flat_map(|p| p.rows.iter().flatten().chain(&p.head).chain([&p.told]));
        self.drawn.iter().flat_map(|d| &d.alternative).chain(told)
    }
}

impl Part {
    fn begun(node: ElementRef<'_>, element: &Element) -> Option<Self> {
        let chapter = has_class(element, "chapter");
        if !chapter && !has_class(element, "cover") {
            return None;
        }
        let name = if chapter { heading(node) } else { "Cover".to_owned() };
        let id = element.attr("id").unwrap_or_default().to_owned();
        Some(Self { name, id, chapter, lines: lines(node) })
    }
}

/// The first line of a caption.
fn title_of(figure: ElementRef<'_>) -> String {
    let caption = figure.descendent_elements().find(|e| e.value().name() == "figcaption");
    caption.and_then(|c| lines(c).into_iter().next()).unwrap_or_default()
}

/// The first heading inside.
fn heading(node: ElementRef<'_>) -> String {
    node.descendent_elements().find(|e| e.value().name() == "h2").map(|n| lines(n).join(" ")).unwrap_or_default()
}

impl Sum {
    fn read(node: ElementRef<'_>, place: &Place) -> Self {
        let mut all = lines(node).into_iter();
        let title = all.next().unwrap_or_default();
        Self { place: place.clone(), title, lines: all.collect() }
    }
}

impl Tied {
    fn read(node: ElementRef<'_>, element: &Element, place: &Place) -> Option<Self> {
        let (to, number) = match (element.attr("data-fact"), element.attr("data-of")) {
            (Some(fact), _) => (fact, true),
            (None, Some(of)) if has_class(element, "name") => (of, false),
            _ => return None,
        };
        Some(Self { place: place.clone(), to: to.to_owned(), number, text: lines(node).join(" ") })
    }
}
