//! A drawing as a PNG picture, at a density of the reader's choice.
//!
//! The picture is made from the very SVG that is written beside it, with the faces that the program brings and no others, so
//! that it is the same on every machine. It knows nothing of what a drawing means.
mod chunk;

use resvg::tiny_skia::{Pixmap, Transform};
use resvg::usvg::{Options, Tree, fontdb};
use std::sync::Arc;

/// Points in an inch.
const POINTS: f64 = 72.0;
/// No picture has more pixels, so that none takes more memory than a small machine has: 400 MB.
const MOST_PIXELS: f64 = 1e8;

/// How many dots an inch of a picture has.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Density(u32);

/// Why a picture is not made.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum PngError {
    /// No density that a picture can have.
    #[error("a picture has {least} to {most} dots an inch, not {0}", least = Density::LEAST, most = Density::MOST)]
    Density(String),
    /// It would take too much memory.
    #[error("`{0}` would have {1} by {2} pixels, which is more than {most} million in all: take fewer than {3} dots an inch", most = MOST_PIXELS / 1e6)]
    TooLarge(String, u32, u32, u32),
    /// The drawing cannot be read; a mistake of ours.
    #[error("`{0}` cannot be drawn: {1}")]
    Drawing(String, String),
}

impl Density {
    /// The least that is of any use.
    pub const LEAST: u32 = 36;
    /// The most: what printers of plates take.
    pub const MOST: u32 = 1200;

    /// So many dots an inch.
    ///
    /// # Errors
    /// [`PngError::Density`] below 36 and above 1200.
    pub fn new(dots: u32) -> Result<Self, PngError> {
        Self::read(&dots.to_string())
    }

    /// A density as it is typed: a whole number.
    ///
    /// # Errors
    /// [`PngError::Density`] where it is no whole number from 36 to 1200.
    pub fn read(typed: &str) -> Result<Self, PngError> {
        let number = typed.parse().ok().filter(|n| (Self::LEAST..=Self::MOST).contains(n));
        number.map(Self).ok_or_else(|| PngError::Density(format!("`{typed}`")))
    }

    fn scale(self) -> f64 {
        f64::from(self.0) / POINTS
    }
}

impl Default for Density {
    /// 200 dots an inch: sharp on paper at reading distance.
    fn default() -> Self {
        Self(200)
    }
}

/// Draws pictures.
pub struct Painter {
    options: Options<'static>,
    density: Density,
}

impl Painter {
    /// A painter who has read the faces once: those that are embedded in the PDF, signs from the second family.
    pub fn new(density: Density) -> Self {
        let mut faces = fontdb::Database::new();
        let own = [notosans::REGULAR_TTF, notosans::BOLD_TTF, dejavu::sans::regular(), dejavu::sans::bold()];
        for face in own {
            faces.load_font_source(fontdb::Source::Binary(Arc::new(face)));
        }
        let name = faces.faces().next().and_then(|f| f.families.first()).map(|(name, _)| name.clone());
        let name = name.unwrap_or_default();
        faces.set_sans_serif_family(name.clone());
        // One point of the drawing is one unit of its view box; the density comes in when it is painted.
        let options = Options { dpi: 72.0, font_family: name, fontdb: Arc::new(faces), ..Options::default() };
        Self { options, density }
    }

    /// The picture of an SVG drawing, on white paper; `name` is for messages.
    ///
    /// # Errors
    /// [`PngError`] where it would be too large, or the drawing is no SVG.
    pub fn paint(&self, name: &str, svg: &str) -> Result<Vec<u8>, PngError> {
        let failed = |why: String| PngError::Drawing(name.to_owned(), why);
        let tree = Tree::from_str(svg, &self.options).map_err(|e| failed(e.to_string()))?;
        let scale = self.density.scale();
        let (wide, high) = (f64::from(tree.size().width()) * scale, f64::from(tree.size().height()) * scale);
        let (columns, rows) = (pixels(wide), pixels(high));
        if wide * high > MOST_PIXELS {
            let fitting = f64::from(self.density.0) * (MOST_PIXELS / (wide * high)).sqrt();
            return Err(PngError::TooLarge(name.to_owned(), columns, rows, fitting as u32));
        }
        let mut paper = Pixmap::new(columns, rows).ok_or_else(|| failed("it has no size".to_owned()))?;
        paper.fill(resvg::tiny_skia::Color::WHITE);
        resvg::render(&tree, Transform::from_scale(scale as f32, scale as f32), &mut paper.as_mut());
        let bytes = paper.encode_png().map_err(|e| failed(e.to_string()))?;
        Ok(chunk::with_density(&bytes, self.density.0))
    }
}

/// Whole pixels that hold a length; what is over by less than a hundredth is a matter of rounding.
fn pixels(length: f64) -> u32 {
    ((length - 0.01).ceil()).clamp(1.0, 1e9) as u32
}
