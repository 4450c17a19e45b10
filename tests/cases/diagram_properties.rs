//! Drawings of random graphs and random models: the geometry alone says what is joined, and nothing stands on anything.

use super::diagram::{Connection, Reader, boxes_stand_free, connections, feeds_keep_apart, lettering_stands_free};
use crate::support::generator::{Names, spec, text};
use crate::support::models::model;
use proptest::prelude::*;
use proptest::strategy::ValueTree;
use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};
use ribstitch::diagram::geometry::{Point, Rect};
use ribstitch::diagram::graph::{Graph, lay_out_graph};
use ribstitch::diagram::{Mark, Scene, draw};
use ribstitch::doc::{Figure, FigureKind, Inline, Subject};
use std::collections::BTreeMap;

/// Graphs in which the movement is measured.
const GROWN: usize = 40;

/// Nodes of several sizes; edges that run on from node to node, or anywhere.
fn graph(rings: bool) -> impl Strategy<Value = Graph> {
    (2_usize..40).prop_flat_map(move |count| {
        let nodes =
            prop::collection::vec((30_u8..110, 24_u8..60).prop_map(|(w, h)| (f64::from(w), f64::from(h))), count);
        let edges = prop::collection::btree_set((0..count, 0..count), 0..count * 2);
        (nodes, edges).prop_map(move |(nodes, edges)| {
            let along = |(a, b): &(usize, usize)| rings || a < b;
            Graph { nodes, edges: edges.into_iter().filter(along).collect() }
        })
    })
}

fn drawn_edges(scene: &Scene) -> Vec<Connection> {
    Reader::new(scene).connections()
}

fn on_page(scene: &Scene) {
    let page = Rect::new(0.0, 0.0, scene.width, scene.height);
    for (_, rect, _) in &Reader::new(scene).things {
        assert!(page.holds(Point::new(rect.x, rect.y)) && page.holds(Point::new(rect.right(), rect.bottom())));
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 96, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_graph_can_be_read_back_from_its_drawing_and_nothing_overlaps(graph in graph(false)) {
        let laid = lay_out_graph(&graph);
        boxes_stand_free("graph", &laid.scene);
        feeds_keep_apart("graph", &laid.scene);
        on_page(&laid.scene);
        let mut wanted: Vec<Connection> =
            graph.edges.iter().map(|(a, b)| (a.to_string(), Vec::new(), b.to_string())).collect();
        wanted.sort();
        prop_assert_eq!(drawn_edges(&laid.scene), wanted);
    }

    #[test]
    fn a_graph_with_rings_is_drawn_without_overlaps(graph in graph(true)) {
        let laid = lay_out_graph(&graph);
        boxes_stand_free("graph", &laid.scene);
        feeds_keep_apart("graph", &laid.scene);
        on_page(&laid.scene);
    }

    #[test]
    fn a_random_model_can_be_read_back_from_its_drawings(spec in spec()) {
        let model = model(&text(&spec, &Names { turn: 0, backwards: false }));
        for system in &model.systems {
            let id = system.id.to_string();
            let (kind, subject) = (FigureKind::System, Subject::One(id.clone()));
            let scene = draw(&Figure { id: id.clone(), kind, subject, caption: vec![Inline::text("random")], panels: Vec::new(), plot: None }, &model);
            boxes_stand_free(&id, &scene);
            feeds_keep_apart(&id, &scene);
            lettering_stands_free(&id, &scene);
            prop_assert_eq!(drawn_edges(&scene), connections(&model, &id));
        }
    }
}

fn middles(scene: &Scene) -> BTreeMap<String, Point> {
    let middle = |m: &Mark| if let Mark::Box(b) = m { Some((b.of.clone(), b.rect.centre())) } else { None };
    scene.marks.iter().filter_map(middle).collect()
}

/// One node more, which hangs on one that is there: how far the others move on the mean, in parts of the drawing's diagonal.
#[test]
fn one_node_more_moves_little_else() {
    let mut runner = TestRunner::new_with_rng(Config::default(), TestRng::from_seed(RngAlgorithm::ChaCha, &[7; 32]));
    let (mut sum, mut count) = (0.0, 0);
    for turn in 0..GROWN {
        let before = graph(false).new_tree(&mut runner).unwrap().current();
        let mut after = before.clone();
        after.nodes.push((60.0, 30.0));
        after.edges.push((turn % before.nodes.len(), before.nodes.len()));
        let (first, second) = (lay_out_graph(&before).scene, lay_out_graph(&after).scene);
        let (was, is) = (middles(&first), middles(&second));
        let far = |(of, a): (&String, &Point)| is.get(of).map(|b| (a.x - b.x).hypot(a.y - b.y));
        let moves: Vec<f64> = was.iter().filter_map(far).collect();
        sum += moves.iter().sum::<f64>() / moves.len() as f64 / second.width.hypot(second.height);
        count += 1;
    }
    let mean = sum / f64::from(count);
    println!("one node more moves the others by {:.1} % of the diagonal on the mean", mean * 100.0);
    assert!(mean < 0.13, "{mean}");
}
