//! The aircraft that a person names.

use crate::base::text::did_you_mean;
use std::path::{Path, PathBuf};

/// The folder or tail file that is meant by a path, or by the wanted name of a type or tail under `aircraft/`.
///
/// # Errors
/// Says what was looked for, and what may be meant.
pub fn find(text: &str, base: &Path) -> Result<PathBuf, String> {
    let given = base.join(text);
    if !text.is_empty() && given.exists() {
        return Ok(if base.as_os_str() == "." || base.as_os_str().is_empty() { PathBuf::from(text) } else { given });
    }
    let all = under_aircraft(base);
    let wanted = text.to_lowercase();
    if let Some((_, path)) = all.iter().find(|(name, _)| *name == wanted) {
        return Ok(path.clone());
    }
    let near = did_you_mean(&wanted, all.iter().map(|(name, _)| name.as_str()));
    let shown = crate::parse::printed::shown(text);
    Err(match near {
        Some(near) => format!("there is no aircraft `{shown}`; write `{near}`, if that is meant"),
        None => format!(
            "there is no aircraft `{shown}`: no such folder or file, and no type or tail of that name under `aircraft/`"
        ),
    })
}

/// Types and tails under `aircraft/`, by lower-case name, types first.
fn under_aircraft(base: &Path) -> Vec<(String, PathBuf)> {
    let root = if base.as_os_str() == "." { PathBuf::from("aircraft") } else { base.join("aircraft") };
    let types = children(&root).into_iter().filter(|p| p.is_dir()).collect::<Vec<_>>();
    let tails =
        types.iter().flat_map(|t| children(&t.join("tails"))).filter(|p| p.extension().is_some_and(|e| e == "toml"));
    let all = types.iter().cloned().chain(tails);
    all.filter_map(|p| Some((p.file_stem()?.to_str()?.to_lowercase(), p.clone()))).collect()
}

fn children(folder: &Path) -> Vec<PathBuf> {
    let mut found: Vec<PathBuf> =
        std::fs::read_dir(folder).map(|all| all.filter_map(Result::ok).map(|e| e.path()).collect()).unwrap_or_default();
    found.sort();
    found
}
