//! Drawings: what they show is what the model says, and nothing stands on anything else.

use ribstitch::base::Sources;
use ribstitch::diagram::{Scene, draw, svg};
use ribstitch::doc::{Figure, FigureKind, Inline, Subject};
use ribstitch::model::Model;
use std::path::Path;

/// The demo's model.
pub fn demo() -> Model {
    let mut sources = Sources::default();
    let (model, diagnostics) = ribstitch::resolve::load(Path::new("aircraft/sandling"), &mut sources);
    model.unwrap_or_else(|| panic!("{diagnostics:?}"))
}

/// A figure of one system, of the whole aircraft, of the panel.
pub fn figure(kind: FigureKind, system: &str) -> Figure {
    let subject = if system.is_empty() { Subject::Aircraft } else { Subject::One(system.to_owned()) };
    let caption = vec![Inline::text(if system.is_empty() { format!("{kind:?}") } else { format!("The {system} system") })];
    Figure { id: format!("figure/{kind:?}/{system}").to_lowercase(), kind, subject, caption }
}

/// Every drawing of the demo.
pub fn all_figures(model: &Model) -> Vec<Figure> {
    let systems = model.systems.iter().map(|s| figure(FigureKind::System, s.id.as_str()));
    let whole = [figure(FigureKind::Overview, ""), figure(FigureKind::Panel, "")];
    systems.chain(whole).collect()
}

#[test]
#[ignore = "writes pictures to look at"]
fn pictures_of_the_demo() {
    let model = demo();
    std::fs::create_dir_all("target/look").unwrap();
    for figure in all_figures(&model) {
        let scene: Scene = draw(&figure, &model);
        let name = figure.id.replace('/', "-");
        std::fs::write(format!("target/look/{name}.svg"), svg::write(&scene)).unwrap();
        println!("{name}: {:.0} x {:.0} pt", scene.width, scene.height);
    }
}
