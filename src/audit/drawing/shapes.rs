//! Marks put together: parts with their names, devices on the line, flags and brackets with their words.

use super::ink::{Block, Frame, Ink, Spot};
use super::lines::Net;

/// How a part is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Form {
    Box,
    Bar,
    Port,
}

/// A box, bar or port.
#[derive(Debug)]
pub(super) struct Part {
    pub(super) form: Form,
    pub(super) frame: Frame,
    pub(super) name: String,
    /// Small print in it.
    pub(super) small: Vec<String>,
}

/// A symbol on a feed.
#[derive(Debug)]
pub(super) struct Device {
    /// Beside it; nothing where it has none, or stands in a box.
    pub(super) name: String,
    /// The part in which it stands.
    pub(super) home: Option<usize>,
}

/// A bracket with its word: how many of the feeds between its ends are enough.
#[derive(Debug)]
pub(super) struct Bracket {
    pub(super) x: f64,
    pub(super) span: (f64, f64),
    pub(super) word: String,
}

/// A condition.
#[derive(Debug)]
pub(super) struct Flag {
    pub(super) words: String,
    /// The end of a line that leads from it to the border of a part.
    pub(super) stub: Option<Spot>,
}

/// All of a drawing, put together.
#[derive(Debug)]
pub(super) struct Shapes {
    pub(super) parts: Vec<Part>,
    pub(super) devices: Vec<Device>,
    pub(super) brackets: Vec<Bracket>,
    pub(super) flags: Vec<Flag>,
    /// Symbols that stand on no feed.
    pub(super) loose: Vec<Spot>,
    /// Tags in the legend, each with the name after it.
    pub(super) legend: Vec<(String, String)>,
    /// Names that stand at nothing.
    pub(super) stray: Vec<String>,
    pub(super) net: Net,
}

/// Pieces of one symbol are nearer than this, and two symbols are farther apart.
const TOGETHER: f64 = 2.0;
/// How far the name of a bar stands above it, and that of a device from it.
const ABOVE: f64 = 8.0;
const BESIDE: f64 = 6.0;
/// A symbol from its middle: along the line, and across.
const REACH: (f64, f64) = (9.0, 6.5);

impl Shapes {
    /// Puts the marks of a drawing together.
    pub(super) fn read(ink: &Ink) -> Self {
        let mut blocks: Vec<Option<&Block>> = ink.blocks.iter().map(Some).collect();
        let mut shapes = Self {
            parts: Vec::new(),
            devices: Vec::new(),
            brackets: Vec::new(),
            flags: Vec::new(),
            loose: Vec::new(),
            legend: Vec::new(),
            stray: Vec::new(),
            net: Net::read(ink),
        };
        shapes.take_flags(ink, &mut blocks);
        shapes.take_parts(ink, &mut blocks);
        shapes.take_brackets(ink, &mut blocks);
        shapes.take_tags(&mut blocks);
        shapes.take_devices(ink, &mut blocks);
        let stray = blocks.into_iter().flatten().filter(|b| !b.small && !b.tag);
        shapes.stray = stray.map(Block::words).collect();
        shapes
    }

    fn take_flags(&mut self, ink: &Ink, blocks: &mut [Option<&Block>]) {
        for (at, flag) in ink.flags.iter().enumerate() {
            let frame = Frame::around(flag);
            let words = take(blocks, |b| frame.holds(b.at, 0.1));
            let words = words.iter().map(|b| b.words()).collect::<Vec<_>>().join(" ");
            let starts = |stub: &&Vec<Spot>| {
                stub.first().is_some_and(|p| (p.0 - frame.right).abs() < 0.3 && frame.holds(*p, 0.3))
            };
            let stub = ink.stubs.iter().find(starts).and_then(|stub| stub.last().copied());
            let piece = if stub.is_none() { self.net.under(flag.get(..2).unwrap_or_default()) } else { None };
            if let Some(piece) = piece {
                self.net.pieces[piece].flags.push(at);
            }
            self.flags.push(Flag { words, stub });
        }
    }

    fn take_parts(&mut self, ink: &Ink, blocks: &mut [Option<&Block>]) {
        for (form, frames) in [(Form::Box, &ink.boxes), (Form::Port, &ink.ports)] {
            for frame in frames {
                let mut inside = take(blocks, |b| frame.holds(b.frame.centre(), 0.0));
                inside.sort_by(|a, b| a.at.1.total_cmp(&b.at.1));
                let (small, name): (Vec<&Block>, Vec<&Block>) = inside.into_iter().partition(|b| b.small);
                let name = name.iter().map(|b| b.words()).collect::<Vec<_>>().join(" ");
                let small = small.iter().map(|b| b.words()).collect();
                self.parts.push(Part { form, frame: *frame, name, small });
            }
        }
        for frame in &ink.bars {
            let middle = frame.centre().0;
            let above = |b: &Block| {
                let down = frame.top - b.frame.bottom;
                b.middle && (b.at.0 - middle).abs() < 0.3 && down > -0.5 && down < ABOVE
            };
            let name = take(blocks, above).iter().map(|b| b.words()).collect::<Vec<_>>().join(" ");
            self.parts.push(Part { form: Form::Bar, frame: *frame, name, small: Vec::new() });
        }
    }

    fn take_brackets(&mut self, ink: &Ink, blocks: &mut [Option<&Block>]) {
        for points in &ink.brackets {
            let frame = Frame::around(points);
            let left = |b: &Block| {
                let (gap, middle) = (frame.left - b.frame.right, b.frame.centre().1);
                gap > -0.5 && gap < 5.0 && middle > frame.top && middle < frame.bottom && !b.tag
            };
            let word = take(blocks, left).iter().map(|b| b.words()).collect::<Vec<_>>().join(" ");
            self.brackets.push(Bracket { x: frame.left, span: (frame.top, frame.bottom), word });
        }
    }

    /// A tag stands on its line; one beside the end of a line, with a name after it, is of the legend.
    fn take_tags(&mut self, blocks: &mut [Option<&Block>]) {
        for tag in take(blocks, |b| b.tag) {
            let on = (tag.frame.centre().0, tag.at.1 - 2.9);
            match self.net.under(&[on]) {
                Some(piece) => self.net.pieces[piece].tags.push(tag.words()),
                None => {
                    let after = |b: &Block| {
                        let off = b.frame.left - tag.at.0;
                        (b.at.1 - tag.at.1).abs() < 0.1 && off > 0.0 && off < 20.0
                    };
                    let name = take(blocks, after).iter().map(|b| b.words()).collect::<Vec<_>>().join(" ");
                    self.legend.push((tag.words(), name));
                }
            }
        }
    }

    fn take_devices(&mut self, ink: &Ink, blocks: &mut [Option<&Block>]) {
        let ends = self.net.ends();
        for frame in clusters(&ink.signs) {
            let touched: Vec<usize> = ends.iter().copied().filter(|n| frame.holds(self.net.spots[*n], 0.3)).collect();
            let [a, b] = touched[..] else {
                self.loose.push(frame.centre());
                continue;
            };
            let (from, to) = (self.net.spots[a], self.net.spots[b]);
            let at = (from.0.midpoint(to.0), from.1.midpoint(to.1));
            let home = self.parts.iter().position(|p| p.form == Form::Box && p.frame.holds(at, 0.0));
            self.net.join((a, b), Some(self.devices.len()));
            self.devices.push(Device { name: String::new(), home });
            if home.is_none() {
                let level = (from.0 - to.0).abs() > (from.1 - to.1).abs();
                let (wide, high) = if level { REACH } else { (REACH.1, REACH.0) };
                let whole = Frame { left: at.0 - wide, right: at.0 + wide, top: at.1 - high, bottom: at.1 + high };
                let name = name_beside(&whole, level, blocks);
                if let Some(device) = self.devices.last_mut() {
                    device.name = name;
                }
            }
        }
    }
}

/// The nearest lettering at a symbol: above one on a level line, to the right of one on an upright line.
fn name_beside(whole: &Frame, level: bool, blocks: &mut [Option<&Block>]) -> String {
    let (middle, off) = (whole.centre(), |b: &Block| b.frame.gap(whole));
    let beside = |b: &Block| {
        let lies = if level {
            (b.frame.centre().0 - middle.0).abs() < 0.6
        } else {
            b.frame.left > middle.0 && b.frame.holds((b.frame.left, middle.1), 1.5)
        };
        lies && !b.small && !b.bold && off(b) < BESIDE
    };
    let near = blocks.iter().flatten().filter(|b| beside(b)).map(|b| off(b)).fold(f64::MAX, f64::min);
    let found = take(blocks, |b| beside(b) && off(b) <= near);
    found.iter().map(|b| b.words()).collect::<Vec<_>>().join(" ")
}

/// Takes lettering that is not spoken for yet.
fn take<'b>(blocks: &mut [Option<&'b Block>], wanted: impl Fn(&Block) -> bool) -> Vec<&'b Block> {
    blocks.iter_mut().filter(|b| b.is_some_and(&wanted)).filter_map(Option::take).collect()
}

/// Pieces of symbols that lie together, as one.
fn clusters(signs: &[Frame]) -> Vec<Frame> {
    let mut left: Vec<Frame> = signs.to_vec();
    left.sort_by(|a, b| a.left.total_cmp(&b.left).then(a.top.total_cmp(&b.top)));
    let mut found: Vec<Frame> = Vec::new();
    let mut open: Vec<Frame> = Vec::new();
    for sign in left {
        let (done, mut still): (Vec<Frame>, Vec<Frame>) =
            open.into_iter().partition(|f| f.right + TOGETHER < sign.left);
        found.extend(done);
        let mut whole = sign;
        while let Some(at) = still.iter().position(|f| f.gap(&whole) < TOGETHER) {
            whole = whole.with(&still.swap_remove(at));
        }
        still.push(whole);
        open = still;
    }
    found.extend(open);
    found
}
