//! The topics of the private pilot examination that are about systems.

/// One topic.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Topic {
    /// Its public code.
    pub code: &'static str,
    /// What it is about, in our words.
    pub about: &'static str,
}

const fn topic(code: &'static str, about: &'static str) -> Topic {
    Topic { code, about }
}

/// Every topic, in the order of the codes.
///
/// # Source
/// FAA-S-ACS-6, private pilot airplane, area PA.I.G "Operation of Systems": a to h of K1 as read for `checks/README.md`, i to l of K1
/// and K2 from memory. The wording is ours.
pub const TOPICS: &[Topic] = &[
    topic("PA.I.G.K1a", "Primary flight controls"),
    topic("PA.I.G.K1b", "Secondary flight controls: trim and flaps"),
    topic("PA.I.G.K1c", "Engine and propeller"),
    topic("PA.I.G.K1d", "Landing gear"),
    topic("PA.I.G.K1e", "Fuel, oil and hydraulics"),
    topic("PA.I.G.K1f", "Electricity"),
    topic("PA.I.G.K1g", "Radios and navigation"),
    topic("PA.I.G.K1h", "Pitot-static, suction and the instruments that hang on them"),
    topic("PA.I.G.K1i", "Cabin air and heat"),
    topic("PA.I.G.K1j", "Protection from ice"),
    topic("PA.I.G.K1k", "Water rudders"),
    topic("PA.I.G.K1l", "Oxygen"),
    topic("PA.I.G.K2", "What is seen of a system that fails"),
];
