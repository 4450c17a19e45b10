//! All files of a finished guide, with the manifest that lists them.

use serde_json::{Value, json};
use sha2::{Digest, Sha256};
use std::collections::{BTreeMap, BTreeSet};

/// Name of the manifest in the folder of a guide.
pub const MANIFEST: &str = "manifest.json";

/// Files by name, with `/` between folders.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Bundle {
    files: BTreeMap<String, Vec<u8>>,
}

impl Bundle {
    /// Adds a file.
    pub fn add(&mut self, name: impl Into<String>, bytes: Vec<u8>) {
        self.files.insert(name.into(), bytes);
    }

    /// All files by name.
    pub fn files(&self) -> impl Iterator<Item = (&str, &[u8])> {
        self.files.iter().map(|(name, bytes)| (name.as_str(), bytes.as_slice()))
    }

    /// The bytes of one file.
    pub fn get(&self, name: &str) -> Option<&[u8]> {
        self.files.get(name).map(Vec::as_slice)
    }

    /// Adds the manifest: what the guide is of, the fingerprint of its facts, and each file with the SHA-256 of its bytes.
    pub fn seal(&mut self, aircraft: &str, facts_fingerprint: &str) {
        let files: BTreeMap<&str, String> =
            self.files().map(|(name, bytes)| (name, hex(&Sha256::digest(bytes)))).collect();
        let manifest = json!({ "ribstitch": 1, "aircraft": aircraft, "facts": facts_fingerprint, "files": files });
        self.add(MANIFEST, format!("{manifest:#}\n").into_bytes());
    }
}

/// The names that a manifest lists; nothing if it is not one of ours.
pub fn listed(manifest: &[u8]) -> Option<BTreeSet<String>> {
    let manifest: Value = serde_json::from_slice(manifest).ok()?;
    manifest.get("ribstitch")?.as_u64()?;
    Some(manifest.get("files")?.as_object()?.keys().cloned().collect())
}

/// Bytes in hexadecimal digits.
pub fn hex(bytes: &[u8]) -> String {
    let mut digits = String::with_capacity(bytes.len() * 2);
    for byte in bytes {
        digits.push_str(&format!("{byte:02x}"));
    }
    digits
}
