//! Pass 7. Before: routed bands. After: the scene, band below band, with its legend.

use super::Band;
use super::build::Stock;
use super::layers::Layers;
use super::parts::Parts;
use super::pen::Pen;
use crate::diagram::WIDEST;
use crate::diagram::geometry::Point;
use crate::diagram::lettering::{LEADING, SIZE, width, wrap};
use crate::diagram::plan::Plan;
use crate::diagram::scene::{Anchor, Fold, Lettering, Mark, Scene, SceneMedium};

/// Space around a drawing, pt.
const EDGE: f64 = 4.0;
/// Height of the title of a band, pt.
const HEAD: f64 = 17.0;
/// Least space between two bands side by side, pt.
const BESIDE: f64 = 22.0;
/// Space between two bands, pt.
const BETWEEN: f64 = 24.0;
/// Length of the sample of a line in the legend, pt.
pub(in crate::diagram) const SAMPLE: f64 = 40.0;

/// Writes the bands into one scene: as many side by side as there is room for.
pub(super) fn write(stock: &Stock<'_>, bands: &[Band]) -> Scene {
    let wide = bands.iter().map(|b| b.layers.width + 2.0 * EDGE).fold(WIDEST, f64::max);
    let mut scene = Scene { width: wide, media: stock.plan.media.clone(), ..Scene::default() };
    let mut y = EDGE;
    let mut rest = bands;
    while !rest.is_empty() {
        let (row, after) = rest.split_at(row_length(rest, wide));
        rest = after;
        let room = wide - row.iter().map(|b| b.layers.width).sum::<f64>();
        let gap = room / (row.len() + 1) as f64;
        let mut x = gap.max(EDGE);
        let head = if row.iter().all(|b| b.title.is_empty()) { 0.0 } else { HEAD };
        for band in row {
            title(&mut scene, band, Point::new(x, y + SIZE), wide / row.len() as f64);
            let origin = Point::new(x, y + head);
            scene.marks.extend(Pen::new(stock, &band.idle, &band.layers, origin).draw());
            x += band.layers.width + gap;
        }
        y += head + row.iter().map(|b| b.layers.height).fold(0.0, f64::max) + BETWEEN;
        scene.folds.push(Fold { marks: scene.marks.len(), bottom: y - BETWEEN / 2.0 });
    }
    scene.height = legend(&mut scene, y - BETWEEN + 14.0);
    scene
}

/// The title of a band, above its left corner; as much of it as there is room for.
fn title(scene: &mut Scene, band: &Band, at: Point, room: f64) {
    let most = (scene.width - at.x - EDGE).min(room);
    if let Some(line) = wrap(&band.title, most).into_iter().next() {
        scene.marks.push(Mark::Words(Lettering::new(vec![line], at, Anchor::Start).small()));
    }
}

/// How many of the bands stand side by side in the next row.
fn row_length(bands: &[Band], wide: f64) -> usize {
    let mut taken = 2.0 * EDGE - BESIDE;
    let fits = |band: &&Band| {
        taken += band.layers.width.max(width(&band.title, SIZE)) + BESIDE;
        taken <= wide
    };
    bands.iter().take_while(fits).count().max(1)
}

/// Writes the layers of a plain graph, which has one medium.
pub(super) fn write_plain(layers: &Layers, medium: SceneMedium) -> Scene {
    let (plan, idle) = (Plan::default(), Parts::default());
    let marks = Pen::new(&Stock::new(&plan, &[]), &idle, layers, Point::new(EDGE, EDGE)).draw();
    let (width, height) = (layers.width + 2.0 * EDGE, layers.height + 2.0 * EDGE);
    Scene { width, height, media: vec![medium], marks, ..Scene::default() }
}

/// The legend under the drawing; the height of the whole.
fn legend(scene: &mut Scene, top: f64) -> f64 {
    let (mut x, mut y) = (EDGE, top + LEADING);
    for medium in 0..scene.media.len() {
        let wide = SAMPLE + 26.0 + width(&scene.media[medium].name, SIZE) + 14.0;
        if x + wide > scene.width && x > EDGE {
            x = EDGE;
            y += LEADING + 4.0;
        }
        scene.marks.push(Mark::Key { medium, at: Point::new(x, y) });
        x += wide;
    }
    if scene.media.is_empty() { top } else { y + 6.0 }
}
