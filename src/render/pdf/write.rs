//! Pages to bytes: frame of each page, links, outline, labels, what the file says of itself.

use super::booklet::Spread;
use super::draw::{Artist, LinkAt, Tools};
use super::fonts::Face;
use super::layout::Layout;
use super::lines::Line;
use super::pages::Page;
use super::setter::Setter;
use super::strip::Tone;
use super::tags::{Tags, cut};
use crate::doc::{Document, Meta, TRAINING_AID, plain_text};
use krilla::Data;
use krilla::annotation::{Annotation, LinkAnnotation, Target};
use krilla::configure::{Accessibility, Archival, ConfigurationBuilder};
use krilla::destination::XyzDestination;
use krilla::embed::{AssociationKind, EmbeddedFile, MimeType};
use krilla::geom::{Point, Quadrilateral, Transform};
use krilla::metadata::{DateTime, Metadata};
use krilla::outline::{Outline, OutlineNode};
use krilla::page::{NumberingStyle, PageLabel, PageSettings};
use krilla::{Document as File, SerializeSettings};
use std::collections::BTreeMap;
use std::num::NonZeroU32;

/// Why no pages can be written.
#[derive(Debug, thiserror::Error)]
pub enum PdfError {
    /// What was written is not as the standards want it.
    #[error("the pages are not as PDF/A-3a and PDF/UA-1 want them: {0}")]
    Refused(String),
}

/// The name under which the canonical text is attached.
pub const ATTACHED: &str = "model.toml";

/// What stands in the margins of every page.
struct Margins {
    whose: Line,
    training_aid: Line,
    edition: Line,
}

/// Writes the pages of a layout.
///
/// # Errors
/// [`PdfError::Refused`] where the standards are not met.
pub(super) fn write(document: &Document, layout: Layout<'_>) -> Result<Vec<u8>, PdfError> {
    let spread = Spread::single(layout.pages.len(), &layout.setter.sheet);
    write_on(document, layout, &spread)
}

/// Writes the pages of a layout at their places on the paper.
///
/// # Errors
/// [`PdfError::Refused`] where the standards are not met.
pub(super) fn write_on(document: &Document, layout: Layout<'_>, spread: &Spread) -> Result<Vec<u8>, PdfError> {
    let Layout { mut setter, pages, anchors } = layout;
    let margins = margins(&mut setter, &document.meta);
    let heads: Vec<(Line, f32)> = pages.iter().map(|p| small(&mut setter, &p.head, Tone::Soft)).collect();
    let labels: Vec<(Line, f32)> = pages.iter().map(|p| label(&mut setter, &p.label)).collect();
    let leads = |to: &str| anchors.get(to).and_then(|(page, _)| pages.get(*page)).map(|p| p.label.clone());
    let (sheet, scenes) = (setter.sheet, setter.scenes);
    let labels_of_links = setter.links.iter().map(|l| leads(&l.to)).collect();
    let Setter { fonts, store, links, tags, .. } = setter;
    let mut tools = Tools { fonts, store, links, labels: labels_of_links, tags, pen: super::scene::Pen::new(), scenes };
    let mut file = File::new_with(settings());
    let places: Vec<Option<(usize, f32)>> = (0..pages.len()).map(|page| spread.place(page)).collect();
    for (side, spots) in spread.sides.iter().enumerate() {
        let mut settings = PageSettings::from_wh(spread.width, spread.height).unwrap_or_default();
        if let Some(page) = spots.first().and_then(|s| pages.get(s.page)) {
            settings = settings.with_page_label(label_of(page));
        }
        let mut sheet_of_file = file.start_page_with(settings);
        let mut surface = sheet_of_file.surface();
        let mut found: Vec<LinkAt> = Vec::new();
        for spot in spots {
            let Some(page) = pages.get(spot.page) else { continue };
            tools.tags.on_page(spot.page);
            surface.push_transform(&Transform::from_translate(spot.x, 0.0));
            let mut artist = Artist::new(&mut surface, &mut tools, (side, spot.x));
            frame(&mut artist, &sheet, (&margins, &heads[spot.page], &labels[spot.page]), page.label != "i");
            for laid in &page.laid {
                artist.strip(&laid.strip, (sheet.side, sheet.top + laid.y), laid.again);
            }
            found.extend(artist.finish().into_iter().map(|at| at.moved(spot.x)));
            surface.pop();
        }
        surface.finish();
        for (link, at) in by_link(&found) {
            let Some(l) = tools.links.get(link as usize) else { continue };
            let Some((page, y)) = anchors.get(&l.to) else { continue };
            let Some(place) = places.get(*page).copied().flatten() else { continue };
            let says = format!("{}, page {}", l.says, leads(&l.to).unwrap_or_default());
            let annotation = link_to(place, (sheet.side, sheet.top + y - 8.0), &at);
            let node = l.node;
            let leaf = sheet_of_file.add_tagged_annotation(Annotation::new_link(annotation, Some(cut(&says))));
            tools.tags.fill(node, leaf);
        }
        sheet_of_file.finish();
    }
    let on_sides =
        |(id, (page, y)): (&String, &(usize, f32))| Some((id.clone(), (places.get(*page).copied().flatten()?.0, *y)));
    let anchors: Anchors = anchors.iter().filter_map(on_sides).collect();
    complete(&mut file, document, (&anchors, &pages), tools.tags);
    let bytes = file.finish().map_err(|e| PdfError::Refused(format!("{e:?}").chars().take(600).collect()))?;
    Ok(super::compact::compacted(bytes))
}

/// A link from some places to one on a side of the paper.
fn link_to((side, x): (usize, f32), at: (f32, f32), from: &[LinkAt]) -> LinkAnnotation {
    let target = XyzDestination::new(side, Point::from_xy(x + at.0, at.1.max(0.0)));
    let quads = from.iter().map(|at| quad(at.corners)).collect();
    LinkAnnotation::new_with_quad_points(quads, Target::Destination(target.into()))
}

fn settings() -> SerializeSettings {
    let configuration = ConfigurationBuilder::new()
        .with_archival_validator(Archival::A3_A)
        .with_accessibility_validator(Accessibility::UA1)
        .finish()
        .unwrap_or_default();
    SerializeSettings { configuration, ..SerializeSettings::default() }
}

fn margins(setter: &mut Setter<'_>, meta: &Meta) -> Margins {
    let whose = meta.registration.as_deref().unwrap_or(&meta.type_name);
    let print: String = meta.facts_fingerprint.chars().take(12).collect();
    let edition = format!("Revision {} · {} · {print}", meta.revision, meta.date);
    let size = setter.sheet.small.letters;
    let bold = Setter::style(Face::Bold, Tone::Ink, None);
    let whose = setter.one_line(whose, bold, size).0;
    Margins {
        whose,
        training_aid: small(setter, TRAINING_AID, Tone::Ink).0,
        edition: small(setter, &edition, Tone::Soft).0,
    }
}

fn small(setter: &mut Setter<'_>, text: &str, tone: Tone) -> (Line, f32) {
    let size = setter.sheet.small.letters;
    setter.one_line(text, Setter::style(Face::Regular, tone, None), size)
}

fn label(setter: &mut Setter<'_>, text: &str) -> (Line, f32) {
    let size = setter.sheet.small.letters + 1.0;
    setter.one_line(text, Setter::style(Face::Bold, Tone::Ink, None), size)
}

/// Running head and foot.
fn frame(
    artist: &mut Artist<'_, '_, '_>,
    sheet: &super::sheet::Sheet,
    (margins, head, label): (&Margins, &(Line, f32), &(Line, f32)),
    headed: bool,
) {
    let size = sheet.small.letters;
    let (left, right) = (sheet.side, sheet.width - sheet.side);
    let head_y = sheet.top - 17.0;
    if headed {
        artist.margin(&margins.whose, size, (left, head_y), false);
        artist.margin(&head.0, size, (right - head.1, head_y), false);
        artist.margin_rule((left, head_y + 4.5), right - left);
    }
    let foot_y = sheet.height - sheet.bottom + 20.0;
    artist.margin_rule((left, foot_y - 10.0), right - left);
    artist.margin(&margins.training_aid, size, (left, foot_y), true);
    artist.margin(&margins.edition, size, (left, foot_y + sheet.small.leading), true);
    artist.margin(&label.0, size + 1.0, (right - label.1, foot_y + sheet.small.leading), true);
}

fn label_of(page: &Page) -> PageLabel {
    let offset = NonZeroU32::new(page.number as u32);
    match page.chapter {
        Some(chapter) => PageLabel::new(Some(NumberingStyle::Arabic), Some(format!("{chapter}-")), offset),
        None => PageLabel::new(Some(NumberingStyle::LowerRoman), None, offset),
    }
}

/// The places of each link of a page.
fn by_link(found: &[LinkAt]) -> BTreeMap<u32, Vec<LinkAt>> {
    let mut by = BTreeMap::new();
    for at in found {
        by.entry(at.link).or_insert_with(Vec::new).push(*at);
    }
    by
}

fn quad([l, t, r, b]: [f32; 4]) -> Quadrilateral {
    Quadrilateral([Point::from_xy(l, b), Point::from_xy(r, b), Point::from_xy(r, t), Point::from_xy(l, t)])
}

type Anchors = BTreeMap<String, (usize, f32)>;

/// What stands in the file besides its pages.
fn complete(file: &mut File, document: &Document, (anchors, pages): (&Anchors, &[Page]), tags: Tags) {
    let meta = &document.meta;
    file.set_tag_tree(tags.build());
    file.set_outline(outline(document, anchors, pages));
    let mut date = meta.date.split('-').map(|n| n.parse::<u16>().unwrap_or(1));
    let mut part = || date.next().unwrap_or(1);
    let stamp = DateTime::new(part()).month(part().min(12) as u8).day(part().min(31) as u8);
    let stamp = stamp.hour(0).minute(0).second(0).utc_offset_hour(0).utc_offset_minute(0);
    let language = if meta.language.is_empty() { "en".to_owned() } else { meta.language.clone() };
    file.set_metadata(
        Metadata::new()
            .title(cut(&meta.title))
            .language(language)
            .description(TRAINING_AID.to_owned())
            .creator("Ribstitch".to_owned())
            .creation_date(stamp)
            .document_id(format!("ribstitch {}", meta.facts_fingerprint)),
    );
    file.embed_file(EmbeddedFile {
        path: ATTACHED.to_owned(),
        mime_type: MimeType::new("text/plain"),
        description: Some("The model and the chapters that this guide was made from".to_owned()),
        association_kind: AssociationKind::Source,
        data: Data::from(meta.canonical.clone().into_bytes()),
        modification_date: Some(stamp),
        compress: Some(true),
        location: None,
    });
}

/// Chapters with their sections.
fn outline(document: &Document, anchors: &Anchors, _pages: &[Page]) -> Outline {
    let place = |id: &str| {
        let (page, y) = anchors.get(id).copied().unwrap_or((0, 0.0));
        XyzDestination::new(page, Point::from_xy(0.0, y.max(0.0)))
    };
    let mut outline = Outline::new();
    for (title, id) in super::front::PARTS {
        if anchors.contains_key(*id) {
            outline.push_child(OutlineNode::new((*title).to_owned(), place(id)));
        }
    }
    for chapter in &document.chapters {
        let title = format!("{} {}", chapter.number, plain_text(&chapter.title));
        let mut node = OutlineNode::new(cut(&title), place(&chapter.id));
        for block in &chapter.blocks {
            if let crate::doc::Block::Heading { level: 0..=2, id, text } = block {
                node.push_child(OutlineNode::new(cut(&plain_text(text)), place(id)));
            }
        }
        outline.push_child(node);
    }
    outline
}
