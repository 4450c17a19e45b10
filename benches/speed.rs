//! Speed: the demo by stages with its audit, its faults in all its states, and generated networks beside a plain peer in the
//! same run.
//!
//! `cargo bench` prints divan's table, then the ratios.
mod demo;
mod network;

use network::{Peer, generated};
use ribstitch::analyse::answer::Effects;
use ribstitch::analyse::network::Analysis;
use ribstitch::model::{FaultIx, Model, StateIx};
use std::time::Instant;

fn all_states(analysis: &Analysis) -> Vec<Effects> {
    analysis.model().state_indices().flat_map(|s| analysis.single_faults(s)).collect()
}

#[divan::bench]
fn demo_compiled() -> String {
    demo::compiled()
}

#[divan::bench]
fn demo_audited(bencher: divan::Bencher) {
    let (document, page) = (demo::proved(), demo::compiled());
    bencher.bench_local(|| ribstitch::audit::report(&page, &document.meta.canonical));
}

#[divan::bench]
fn demo_made_ready(bencher: divan::Bencher) {
    let model = demo::model();
    bencher.bench_local(|| Analysis::new(&model));
}

#[divan::bench]
fn demo_single_faults_in_all_states(bencher: divan::Bencher) {
    let model = demo::model();
    bencher.bench_local(|| all_states(&Analysis::new(&model)));
}

/// Every single fault of a thousand and of ten thousand nodes; 640 faults of a hundred thousand.
#[divan::bench(args = [1_000, 10_000, 100_000], max_time = 5)]
fn generated_network_reach(bencher: divan::Bencher, nodes: usize) {
    let model = generated(nodes);
    let analysis = Analysis::new(&model);
    let faults = faults_of(&model, nodes);
    bencher.bench_local(|| analysis.reach(StateIx::new(0), &faults));
}

#[divan::bench(args = [1_000, 10_000, 100_000], max_time = 5)]
fn generated_network_made_ready(bencher: divan::Bencher, nodes: usize) {
    let model = generated(nodes);
    bencher.bench_local(|| Analysis::new(&model));
}

fn faults_of(model: &Model, nodes: usize) -> Vec<FaultIx> {
    let step = if nodes > 10_000 { nodes / 640 } else { 1 };
    model.fault_indices().step_by(step).take(if nodes > 10_000 { 640 } else { nodes }).collect()
}

fn main() {
    divan::main();
    if std::env::args().any(|a| a == "--list" || a == "--test") {
        return;
    }
    demo::print_stages();
    println!("\nreach of single faults, per fault: lanes beside a worklist of one fault at a time");
    for nodes in [1_000, 10_000, 100_000] {
        ratio(nodes);
    }
}

/// Both solve the same; the peer only a sample of the faults, since it would take too long.
fn ratio(nodes: usize) {
    let model = generated(nodes);
    let analysis = Analysis::new(&model);
    let faults = faults_of(&model, nodes);
    let begin = Instant::now();
    let reach = analysis.reach(StateIx::new(0), &faults);
    let fast_us = begin.elapsed().as_secs_f64() * 1e6 / faults.len() as f64;
    let peer = Peer::new(&model);
    let before = peer.cold();
    let sample: Vec<usize> = (0..faults.len()).step_by(faults.len() / 20).collect();
    let begin = Instant::now();
    let found: Vec<usize> = sample.iter().map(|i| peer.lost(&before, model[faults[*i]].of)).collect();
    let slow_us = begin.elapsed().as_secs_f64() * 1e6 / sample.len() as f64;
    let same = sample.iter().zip(&found).all(|(i, lost)| reach[*i].len() == *lost);
    assert!(same, "the peer finds something else");
    let mean = reach.iter().map(Vec::len).sum::<usize>() / reach.len();
    let ratio = slow_us / fast_us;
    println!(
        "{nodes:>7} nodes, {:>5} faults taking {mean} on the mean: {fast_us:>8.2} µs, peer {slow_us:>10.1} µs, ratio {ratio:.0}",
        faults.len()
    );
}
