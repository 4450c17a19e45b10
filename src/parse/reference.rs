//! The reference page of the language, made from the declarations.

use super::key::{CHANGE, Decl, Form, TAIL, TOP};
use super::need::NEED_TABLE;
use super::wanted::wanted;
use crate::base::unit::UNITS;
use std::collections::BTreeSet;

/// Every key of every table, as Markdown.
pub fn reference() -> String {
    let mut page =
        String::from("# Every key of the model language\n\nMade from the declarations that the checks use.\n");
    let mut seen = BTreeSet::new();
    write_table(&TOP, &mut page, &mut seen);
    write_table(&NEED_TABLE, &mut page, &mut seen);
    write_table(&TAIL, &mut page, &mut seen);
    write_table(&CHANGE, &mut page, &mut seen);
    write_units(&mut page);
    page
}

fn write_table(decl: &'static Decl, page: &mut String, seen: &mut BTreeSet<&'static str>) {
    if !seen.insert(decl.path) {
        return;
    }
    page.push_str(&format!(
        "\n## `{}`\n\n{}\n\n| key | form | default | meaning | refused when |\n| --- | --- | --- | --- | --- |\n",
        decl.path, decl.about
    ));
    for key in decl.keys {
        let default = if key.required { "required" } else { key.default };
        page.push_str(&format!(
            "| `{}` | {} | {default} | {} | {} |\n",
            key.name,
            wanted(&key.form).replace('|', "\\|"),
            key.meaning,
            key.refused
        ));
    }
    for key in decl.keys {
        for sub in tables_of(&key.form) {
            write_table(sub, page, seen);
        }
    }
}

/// The tables that a form leads to.
pub fn tables_of(form: &Form) -> Vec<&'static Decl> {
    match form {
        Form::Table(decl) | Form::Ids(decl) => vec![decl],
        Form::List(of) | Form::Map(_, of) => tables_of(of),
        Form::OneOf(forms) => forms.iter().flat_map(tables_of).collect(),
        _ => Vec::new(),
    }
}

fn write_units(page: &mut String) {
    page.push_str("\n## Units\n\n| unit | measures |\n| --- | --- |\n");
    for unit in UNITS {
        page.push_str(&format!("| `{}` | {} |\n", unit.symbol, unit.dimension.name()));
    }
}
