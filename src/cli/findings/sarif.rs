//! Diagnostics as SARIF 2.1.0, for editors and services that show them beside the lines.
//!
//! # Source
//! OASIS, Static Analysis Results Interchange Format (SARIF) Version 2.1.0 (from memory): `version`, `runs[].tool.driver`,
//! `runs[].columnKind`, `results[]` with `physicalLocation` and `relatedLocations`. Columns are counted in characters.

use super::Extent;
use crate::base::{Diagnostic, Diagnostics, Label, Severity, Sources};
use serde_json::{Value, json};
use std::collections::BTreeSet;

/// The whole log. `explain` gives the long text of a code.
pub fn write(findings: &Diagnostics, sources: &Sources, explain: &dyn Fn(&str) -> Option<String>) -> Value {
    let codes: BTreeSet<&str> = findings.iter().map(|d| d.code).collect();
    let rules: Vec<Value> = codes.iter().map(|code| rule(code, explain(code))).collect();
    let results: Vec<Value> = findings.iter().map(|d| result(d, &codes, sources)).collect();
    json!({
        "$schema": "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json",
        "version": "2.1.0",
        "runs": [{
            "tool": { "driver": { "name": "ribstitch", "version": env!("CARGO_PKG_VERSION"), "rules": rules } },
            "columnKind": "unicodeCodePoints",
            "results": results,
        }],
    })
}

fn rule(code: &str, long: Option<String>) -> Value {
    let mut rule = json!({ "id": code });
    if let Some(long) = long {
        rule["fullDescription"] = json!({ "text": long });
    }
    rule
}

fn result(finding: &Diagnostic, codes: &BTreeSet<&str>, sources: &Sources) -> Value {
    let level = match finding.severity {
        Severity::Error => "error",
        Severity::Warning => "warning",
    };
    let text = match &finding.help {
        Some(help) => format!("{}\nHelp: {help}", finding.message),
        None => finding.message.clone(),
    };
    let related: Vec<Value> =
        finding.secondary.iter().enumerate().map(|(i, l)| location(l, Some(i), sources)).collect();
    json!({
        "ruleId": finding.code,
        "ruleIndex": codes.iter().position(|c| *c == finding.code),
        "level": level,
        "message": { "text": text },
        "locations": [location(&finding.primary, None, sources)],
        "relatedLocations": related,
    })
}

fn location(label: &Label, id: Option<usize>, sources: &Sources) -> Value {
    let Extent { line, column, end_line, end_column } = Extent::of(label.span, sources);
    let mut location = json!({ "physicalLocation": {
        "artifactLocation": { "uri": escape(sources.name(label.span.file)) },
        "region": { "startLine": line, "startColumn": column, "endLine": end_line, "endColumn": end_column },
    } });
    if let Some(id) = id {
        location["id"] = json!(id);
    }
    if !label.text.is_empty() {
        location["message"] = json!({ "text": label.text });
    }
    location
}

/// A file name as a relative reference (RFC 3986): everything but unreserved characters and `/` is escaped.
fn escape(name: &str) -> String {
    let plain = |b: u8| b.is_ascii_alphanumeric() || matches!(b, b'-' | b'.' | b'_' | b'~' | b'/');
    name.bytes().map(|b| if plain(b) { char::from(b).to_string() } else { format!("%{b:02X}") }).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::Span;

    #[test]
    fn a_finding_has_its_rule_its_region_and_an_escaped_name() {
        let mut sources = Sources::default();
        let file = sources.add("my model/a.toml", "é = 1\n");
        let mut findings = Diagnostics::default();
        findings.push(Diagnostic::error("c-one", Span::new(file, 5..6), "wrong"));
        let log = write(&findings, &sources, &|_| Some("Long.".to_owned()));
        let result = &log["runs"][0]["results"][0];
        assert_eq!(result["ruleId"], "c-one");
        assert_eq!(result["ruleIndex"], 0);
        let place = &result["locations"][0]["physicalLocation"];
        assert_eq!(place["artifactLocation"]["uri"], "my%20model/a.toml");
        assert_eq!(place["region"]["startColumn"], 5);
        assert_eq!(log["runs"][0]["tool"]["driver"]["rules"][0]["fullDescription"]["text"], "Long.");
    }
}
