//! The file around the sides: standards, metadata, the attached text, an outline.

use crate::doc::Meta;
use crate::render::pdf::compact::compacted;
use krilla::configure::{Accessibility, Archival, ConfigurationBuilder};
use krilla::destination::XyzDestination;
use krilla::embed::{AssociationKind, EmbeddedFile, MimeType};
use krilla::geom::Point;
use krilla::metadata::{DateTime, Metadata};
use krilla::outline::{Outline, OutlineNode};
use krilla::tagging::TagTree;
use krilla::{Data, Document, SerializeSettings};

/// An empty file that is held to PDF/A-3a and PDF/UA-1.
///
/// # Errors
/// Where the library cannot hold it to both.
pub(super) fn begin() -> Result<Document, String> {
    let configuration = ConfigurationBuilder::new()
        .with_archival_validator(Archival::A3_A)
        .with_accessibility_validator(Accessibility::UA1)
        .finish();
    let configuration = configuration.map_err(|e| format!("{e:?}"))?;
    Ok(Document::new_with(SerializeSettings { configuration, ..SerializeSettings::default() }))
}

/// The bytes of the file.
///
/// # Errors
/// What the library finds against the standards.
pub(super) fn finish(mut file: Document, meta: &Meta, title: &str, tree: TagTree) -> Result<Vec<u8>, String> {
    let date = date(&meta.date);
    file.set_tag_tree(tree);
    let mut outline = Outline::new();
    outline.push_child(OutlineNode::new(title.to_owned(), XyzDestination::new(0, Point::from_xy(0.0, 0.0))));
    file.set_outline(outline);
    file.set_metadata(
        Metadata::new()
            .title(format!("Quick-reference card, {}", meta.registration.as_deref().unwrap_or(&meta.type_name)))
            .language(if meta.language.is_empty() { "en".to_owned() } else { meta.language.clone() })
            .creator("Ribstitch".to_owned())
            .document_id(format!("card {}", meta.facts_fingerprint))
            .creation_date(date),
    );
    file.embed_file(EmbeddedFile {
        path: "model.txt".to_owned(),
        mime_type: MimeType::new("text/plain"),
        description: Some("The model and the chapters that this was made from".to_owned()),
        association_kind: AssociationKind::Source,
        data: Data::from(meta.canonical.clone().into_bytes()),
        modification_date: Some(date),
        compress: Some(true),
        location: None,
    });
    file.finish().map(compacted).map_err(|e| format!("{e:?}"))
}

/// The date of the revision, `2026-05-02`; no clock is asked.
fn date(text: &str) -> DateTime {
    let mut parts = text.split('-').map(|p| p.parse::<u16>().unwrap_or(1));
    let mut next = || parts.next().unwrap_or(1);
    let (year, month, day) = (next(), next() as u8, next() as u8);
    DateTime::new(year).month(month).day(day).hour(0).minute(0).second(0).utc_offset_hour(0).utc_offset_minute(0)
}
