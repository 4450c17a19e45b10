//! Where pages stand on the paper: each on a sheet of its own, or two beside one another so that the sheets are folded to a
//! booklet.
//!
//! A booklet of few sheets is one gathering, folded all together; a thicker one is parted into gatherings of like thickness, which
//! are folded each alone and stand in order. That more than fifteen sheets are not folded together is common practice, no source.

use super::sheet::Sheet;

/// No gathering has more sheets.
const MOST: usize = 15;
/// Pages on a sheet that is folded: two before and two behind.
const FOLDED: usize = 4;

/// A page at its place on a side of the paper.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Spot {
    /// Its number from the first.
    pub page: usize,
    /// From the left edge of the paper, pt.
    pub x: f32,
}

/// Sides of paper with the pages on them.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Spread {
    /// Width of the paper, pt.
    pub width: f32,
    /// Height of the paper, pt.
    pub height: f32,
    /// Sides in the order in which they are printed; a side may be empty.
    pub sides: Vec<Vec<Spot>>,
}

impl Spread {
    /// Each page alone.
    pub fn single(count: usize, sheet: &Sheet) -> Self {
        let sides = (0..count).map(|page| vec![Spot { page, x: 0.0 }]).collect();
        Self { width: sheet.width, height: sheet.height, sides }
    }

    /// Two pages on a side of paper twice as wide, for both sides turned over at the short edge.
    pub fn folded(count: usize, sheet: &Sheet) -> Self {
        let spots = |[left, right]: [usize; 2]| {
            let spot = |page: usize, x: f32| (page < count).then_some(Spot { page, x });
            spot(left, 0.0).into_iter().chain(spot(right, sheet.width)).collect()
        };
        let sides = order(count.div_ceil(FOLDED)).into_iter().map(spots).collect();
        Self { width: sheet.width * 2.0, height: sheet.height, sides }
    }

    /// The side that a page stands on, and its place there.
    pub fn place(&self, page: usize) -> Option<(usize, f32)> {
        self.sides.iter().enumerate().find_map(|(side, spots)| {
            let spot = spots.iter().find(|s| s.page == page)?;
            Some((side, spot.x))
        })
    }
}

/// The left and the right page of each side, for so many sheets.
fn order(sheets: usize) -> Vec<[usize; 2]> {
    let gatherings = sheets.div_ceil(MOST).max(1);
    let (mut sides, mut first) = (Vec::new(), 0);
    for gathering in 0..gatherings {
        // What cannot be shared evenly goes to the first ones.
        let own = sheets / gatherings + usize::from(gathering < sheets % gatherings);
        let end = first + own * FOLDED;
        for sheet in 0..own {
            let (outer, inner) = (first + 2 * sheet, end - 1 - 2 * sheet);
            sides.push([inner, outer]);
            sides.push([outer + 1, inner - 1]);
        }
        first = end;
    }
    sides
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::render::Paper;

    /// Folds the sheets of a gathering and leafs through them.
    fn leafed(sides: &[[usize; 2]]) -> Vec<usize> {
        let sheets: Vec<&[[usize; 2]]> = sides.chunks(2).collect();
        let before = sheets.iter().flat_map(|s| [s[0][1], s[1][0]]);
        let behind = sheets.iter().rev().flat_map(|s| [s[1][1], s[0][0]]);
        before.chain(behind).collect()
    }

    #[test]
    fn a_folded_booklet_has_its_pages_in_order() {
        assert_eq!(order(2), [[7, 0], [1, 6], [5, 2], [3, 4]]);
        for sheets in 1..=MOST {
            assert_eq!(leafed(&order(sheets)), (0..sheets * FOLDED).collect::<Vec<_>>());
        }
    }

    #[test]
    fn thick_booklets_are_gatherings_in_order_none_too_thick() {
        for sheets in [16, 31, 88] {
            let sides = order(sheets);
            let (mut rest, mut read) = (sides.as_slice(), Vec::new());
            while !rest.is_empty() {
                let last = rest[0][0];
                let own = (last + 1 - read.len()) / 2;
                assert!(own / 2 <= MOST && own / 2 + 1 >= sheets / sheets.div_ceil(MOST), "{own}");
                read.extend(leafed(&rest[..own]));
                rest = &rest[own..];
            }
            assert_eq!(read, (0..sheets * FOLDED).collect::<Vec<_>>());
        }
    }

    #[test]
    fn what_is_wanting_to_whole_sheets_is_blank() {
        let sheet = Sheet::of(Paper::A5);
        let spread = Spread::folded(5, &sheet);
        assert_eq!(spread.sides.len(), 4);
        let pages: Vec<Vec<usize>> = spread.sides.iter().map(|s| s.iter().map(|p| p.page).collect()).collect();
        assert_eq!(pages, [vec![0], vec![1], vec![2], vec![3, 4]]);
        assert_eq!(spread.sides[0][0].x, sheet.width);
        assert_eq!(spread.place(4), Some((3, sheet.width)));
        assert_eq!(Spread::folded(0, &sheet).sides, Vec::<Vec<Spot>>::new());
    }
}
