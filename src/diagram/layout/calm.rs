//! Part of pass 4: of all orders that cross as little, one that keeps near to the order in which the vertices were written, so that
//! one vertex more moves little else.
//!
//! What nothing joins stands one below the other, by its first vertex; each of these is perhaps the mirror of what was found; then
//! neighbours that may change places for nothing stand as they were written.

use super::crossings::Net;
use super::sift::Sieve;

/// Longer columns are left as they are found.
const LONGEST_CALMED: usize = 300;

/// Calms an order.
pub(super) fn calm(net: &mut Net, sieve: &mut Sieve) {
    let pieces = net.pieces();
    for column in &mut net.columns {
        column.sort_by_key(|vertex| pieces[*vertex]);
    }
    net.number();
    mirror(net, &pieces);
    for column in (0..net.columns.len()).filter(|c| net.columns[*c].len() <= LONGEST_CALMED).collect::<Vec<_>>() {
        sieve.sort_ties(net, column);
    }
}

/// Turns every piece over of which fewer than half of all neighbours stand as they were written.
fn mirror(net: &mut Net, pieces: &[usize]) {
    let mut rising = vec![0_i32; pieces.len()];
    for column in &net.columns {
        for pair in column.windows(2).filter(|pair| pieces[pair[0]] == pieces[pair[1]]) {
            rising[pieces[pair[0]]] += if pair[0] < pair[1] { 1 } else { -1 };
        }
    }
    let before = net.crossings();
    let mut turned = net.columns.clone();
    for column in &mut turned {
        for piece in column.chunk_by_mut(|a, b| pieces[*a] == pieces[*b]) {
            if piece.first().is_some_and(|vertex| rising[pieces[*vertex]] < 0) {
                piece.reverse();
            }
        }
    }
    std::mem::swap(&mut net.columns, &mut turned);
    net.number();
    // Rows of a box keep their order, so that its mirror may cross more.
    if net.crossings() > before {
        net.columns = turned;
        net.number();
    }
}
