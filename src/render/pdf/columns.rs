//! How wide the columns of a table are, from what is in them.

/// What one column asks for, pt.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(super) struct Wish {
    /// Its widest part that is not broken.
    pub least: f32,
    /// Its widest cell on one line.
    pub most: f32,
    /// All that is in it on one line: how much height it makes.
    pub bulk: f32,
}

/// Widths of columns that fit into the space between them: each as wide as its widest cell if there is room for that, else the
/// narrow ones so, and the others by how much is in them. Nothing if the widest words alone are wider.
pub(super) fn widths(wishes: &[Wish], room: f32) -> Option<Vec<f32>> {
    let most: f32 = wishes.iter().map(|w| w.most).sum();
    if most <= room {
        return Some(wishes.iter().map(|w| w.most).collect());
    }
    let least: f32 = wishes.iter().map(|w| w.least).sum();
    (least <= room).then(|| shared(wishes, room))
}

/// Widths that fit whatever happens: in the share of the widest words.
pub(super) fn squeezed(wishes: &[Wish], room: f32) -> Vec<f32> {
    let all: f32 = wishes.iter().map(|w| w.least.max(1.0)).sum();
    wishes.iter().map(|w| w.least.max(1.0) * room / all.max(1.0)).collect()
}

/// Widths are moved from column to column by steps, pt.
const STEP: f32 = 6.0;
/// So often at most.
const STEPS: usize = 48;

/// The same widths in all, shared so that the rows together become less high; `cells` holds, row by row and column by column, how
/// long each line of a cell is.
pub(super) fn evened(mut widths: Vec<f32>, wishes: &[Wish], cells: &[Vec<Vec<f32>>]) -> Vec<f32> {
    let mut best = height(&widths, cells);
    for _ in 0..STEPS {
        let mut better: Option<(f32, usize, usize)> = None;
        for from in (0..widths.len()).filter(|c| widths[*c] - STEP >= wishes[*c].least) {
            for to in (0..widths.len()).filter(|c| *c != from && widths[*c] < wishes[*c].most) {
                let mut tried = widths.clone();
                (tried[from], tried[to]) = (tried[from] - STEP, tried[to] + STEP);
                let high = height(&tried, cells);
                if high < better.map_or(best, |b| b.0) - 0.01 {
                    better = Some((high, from, to));
                }
            }
        }
        let Some((high, from, to)) = better else { break };
        (widths[from], widths[to], best) = (widths[from] - STEP, widths[to] + STEP, high);
    }
    widths
}

/// About how many lines all rows take, long rows counting for more.
fn height(widths: &[f32], cells: &[Vec<Vec<f32>>]) -> f32 {
    let cell = |lines: &[f32], wide: f32| lines.iter().map(|l| (l * 1.06 / wide.max(1.0)).ceil().max(1.0)).sum::<f32>();
    let row = |row: &Vec<Vec<f32>>| row.iter().zip(widths).map(|(c, w)| cell(c, *w)).fold(0.0, f32::max);
    cells.iter().map(row).map(|high| high + high * high * 0.04).sum()
}

/// Columns that would get more than they can use, or less than they must have, get just that; the rest is shared again.
fn shared(wishes: &[Wish], room: f32) -> Vec<f32> {
    let mut fixed: Vec<Option<f32>> = vec![None; wishes.len()];
    for _ in 0..=wishes.len() * 2 {
        let taken: f32 = fixed.iter().flatten().sum();
        let free = || wishes.iter().zip(&fixed).filter(|(_, f)| f.is_none()).map(|(w, _)| w);
        let weight: f32 = free().map(|w| w.bulk.max(1.0).sqrt()).sum();
        let share = |w: &Wish| (room - taken) * w.bulk.max(1.0).sqrt() / weight.max(1e-3);
        let too_wide = wishes.iter().enumerate().find(|(i, w)| fixed[*i].is_none() && share(w) >= w.most);
        let too_narrow = wishes.iter().enumerate().find(|(i, w)| fixed[*i].is_none() && share(w) < w.least);
        match (too_narrow, too_wide) {
            (Some((i, w)), _) => fixed[i] = Some(w.least),
            (None, Some((i, w))) => fixed[i] = Some(w.most),
            (None, None) => return wishes.iter().zip(&fixed).map(|(w, f)| f.unwrap_or_else(|| share(w))).collect(),
        }
    }
    squeezed(wishes, room)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn wish(least: f32, most: f32) -> Wish {
        Wish { least, most, bulk: most * 3.0 }
    }

    #[test]
    fn a_narrow_table_is_as_wide_as_what_is_in_it() {
        assert_eq!(widths(&[wish(10.0, 50.0), wish(10.0, 40.0)], 500.0), Some(vec![50.0, 40.0]));
    }

    #[test]
    fn a_wide_table_fills_the_room_and_no_column_is_narrower_than_its_widest_word() {
        let wishes = [wish(40.0, 60.0), wish(60.0, 900.0), wish(70.0, 300.0), wish(90.0, 95.0)];
        let done = widths(&wishes, 500.0).unwrap();
        assert!((done.iter().sum::<f32>() - 500.0).abs() < 0.01, "{done:?}");
        assert!(done.iter().zip(&wishes).all(|(w, wish)| *w >= wish.least - 0.01 && *w <= wish.most + 0.01));
    }

    #[test]
    fn words_that_are_too_wide_are_told() {
        assert_eq!(widths(&[wish(300.0, 400.0), wish(300.0, 400.0)], 500.0), None);
        assert!((squeezed(&[wish(300.0, 400.0), wish(300.0, 400.0)], 500.0).iter().sum::<f32>() - 500.0).abs() < 0.01);
    }
}
