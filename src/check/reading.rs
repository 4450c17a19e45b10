//! What reading and resolving refuse: the documentation of their codes.

use super::Rule;

const fn rule(code: &'static str, summary: &'static str, long: &'static str) -> Rule {
    Rule { code, summary, long }
}

/// Codes of `parse` and `resolve`.
pub const RULES: &[Rule] = &[
    rule(
        "syntax",
        "the file is not TOML",
        "Model files are TOML 1.0. The place is where the reader could not go on; what is wrong often stands just before it. All syntax errors of a file are told at once.",
    ),
    rule(
        "key-twice",
        "one key is defined twice",
        "Each fact is declared once, at one place. The same key may stand neither twice in a file nor in two files of the folder.",
    ),
    rule(
        "too-large",
        "a file is larger than 8 MiB",
        "No model is as large as that. A file that is may hold something else.",
    ),
    rule(
        "nested-too-deep",
        "tables and lists nest deeper than 32",
        "A need that nests so deep cannot be drawn or read. Give its inner part an item of its own.",
    ),
    rule(
        "not-utf8",
        "a file is not UTF-8 text",
        "Model files are UTF-8. The place is the first byte that is none; an editor can save the file anew.",
    ),
    rule(
        "path-climbs",
        "a path leads out of its folder",
        "An aircraft is made of the files of one folder. Links are not followed, and a tail is named by its bare name.",
    ),
    rule(
        "no-such-file",
        "a file that is named is not there",
        "A tail is over another tail by the bare name of its file in `tails`.",
    ),
    rule(
        "cannot-read",
        "a file cannot be read",
        "It is there, and the machine refuses to read it, or it is no plain file.",
    ),
    rule("no-model-files", "the folder has no model files", "A type is a folder with files `*.toml`."),
    rule("missing-table", "a table that every model has is not there", "Every model has `[aircraft]`."),
    rule(
        "unknown-table",
        "a table is not one of the language",
        "The reference page lists every table. Owner's notes go into `[private]`.",
    ),
    rule("unknown-key", "a key is not one of its table", "The reference page lists every key of every table."),
    rule(
        "unknown-kind",
        "a kind is not in the closed list",
        "`kind` fixes symbol, walking group and defaults, so it is a word of a closed list.",
    ),
    rule(
        "endurance-open-phases",
        "not exactly one phase on the battery is without a time",
        "The phases from the loss of the alternator to the landing take the time that they say. One of them, most often the flight to where the aircraft lands, is as long as the battery allows, so it says none.",
    ),
    rule(
        "unknown-word",
        "a word is not in its closed list",
        "Some keys take one word of a short list, which the help shows.",
    ),
    rule(
        "unknown-unit",
        "a unit is not known",
        "Units are those that the trade uses, typed as the reference page lists them; capitals count.",
    ),
    rule(
        "wrong-dimension",
        "a quantity is of the wrong dimension",
        "A key that takes a current takes no pressure. The help lists the units that fit.",
    ),
    rule(
        "not-a-quantity",
        "a text is not number and unit",
        "A quantity is a text of a number and a unit: \"35 Ah\", \"4.8..5.2 inHg\".",
    ),
    rule("not-a-range", "a scale has no two ends", "A scale runs from a value to a higher one."),
    rule("scale-backwards", "a range runs backwards", "The lower end of a range stands first."),
    rule(
        "number-out-of-range",
        "a number is out of its range",
        "Counts begin at zero, shares lie between 0 and 1, and no quantity is beyond all reason.",
    ),
    rule(
        "wrong-type",
        "a value is of another type than its key takes",
        "Text stands in quotes, numbers and dates do not; lists stand in square brackets.",
    ),
    rule(
        "missing-key",
        "a key that its table must have is not there",
        "The reference page marks the keys that a table must have.",
    ),
    rule(
        "given-normally-missing",
        "a given does not say whether it normally holds",
        "Nothing in the aircraft makes a given, so the model must say whether it holds when no state speaks of it.",
    ),
    rule(
        "bad-id",
        "an id is not written as ids are",
        "Ids are lower-case words joined by `-`, at most 64 characters, and begin with a letter.",
    ),
    rule("bad-tag", "a tag is not two capitals", "A tag is drawn at a line, where there is room for two capitals."),
    rule("bad-colour", "a colour is not written as colours are", "A colour is `#` and six digits of 0-9 and a-f."),
    rule(
        "bad-system-number",
        "a system number is not two digits",
        "Systems carry the two digits by which maintenance books number them.",
    ),
    rule("date-wrong", "a date is none", "A date is a day of the calendar, written like 2026-05-02."),
    rule("empty-text", "a printed text is empty", "An empty text would leave a hole in the guide."),
    rule(
        "markup-in-name",
        "a printed text holds markup or hidden characters",
        "Texts are printed as they are. Markup, control characters and characters that turn the reading order could make a page say what its author did not.",
    ),
    rule(
        "not-a-sentence",
        "a printed sentence is none",
        "What is printed as a sentence begins with a capital and ends with a full stop.",
    ),
    rule(
        "need-grammar",
        "a need does not follow the grammar",
        "A need is a node, what it passes `through`, and `when` controls stand so; choices are joined by `or`, and a comma closes a list of positions.",
    ),
    rule("empty-need", "a need says nothing", "A need that names nothing always holds, or never. Neither is meant."),
    rule(
        "at-least-out-of-range",
        "more are asked for than there are",
        "A quorum asks for at least one and at most as many as are named.",
    ),
    rule(
        "control-twice",
        "a control stands twice in one condition",
        "All controls of a condition must match, so a control that stands twice would have to match both times.",
    ),
    rule(
        "overlay-ring",
        "tails are over each other in a ring",
        "A tail is over the type, or over another tail that in the end is over the type.",
    ),
    rule(
        "overlay-exists",
        "a tail adds what is there already",
        "What is there is replaced, not added, so that the reader of a tail knows what he sees.",
    ),
    rule(
        "overlay-missing",
        "a tail changes what is not there",
        "Replacing or removing needs something in the type; a mistyped path would pass unseen otherwise.",
    ),
    rule(
        "reason-missing",
        "a change of a tail has no reason",
        "Every difference of an aircraft from its type is printed in its guide, with the reason.",
    ),
    rule(
        "registration-missing",
        "a tail has no registration",
        "A tail is one individual aircraft and is called by its registration.",
    ),
    rule(
        "id-twice",
        "an item and a given share an id",
        "Items and givens share one name space, since needs name both.",
    ),
    rule("position-twice", "a control has a position twice", "Each position of a control has a name of its own."),
    rule(
        "too-few-positions",
        "a control has fewer than two positions",
        "What has one position cannot be moved and is no control.",
    ),
    rule(
        "medium-built-in",
        "a medium that is built in is declared again",
        "The media that every aircraft has are built in.",
    ),
    rule(
        "unknown-name",
        "a node is named that is not declared",
        "Needs and faults name items, functions (`item.function`) and givens by id.",
    ),
    rule(
        "unknown-position",
        "a control has no position of that name",
        "The positions of a control are those of its `positions`, or `off` and `on` for a switch and `in` and `out` for a breaker.",
    ),
    rule(
        "unknown-medium",
        "a medium is named that is not declared",
        "A medium is built in or declared under `[medium.…]`.",
    ),
    rule(
        "unknown-information",
        "information is named that is not declared",
        "What the pilot needs to know is declared under `[information.…]`.",
    ),
    rule("unknown-system", "a system is named that is not declared", "Systems are declared under `[system.…]`."),
    rule("unknown-alert", "an alert is named that is not declared", "Alerts are declared under `[alert.…]`."),
    rule("unknown-state", "a state is named that is not declared", "States are declared under `[state.…]`."),
    rule(
        "unknown-fault",
        "a fault is named that is not declared",
        "A fault is named `item:fault`; every item that can fail has `fails`.",
    ),
    rule(
        "state-unknown-reference",
        "the reference state is not declared",
        "`reference-state` names the state that is meant when none is named.",
    ),
    rule(
        "not-an-item",
        "an item is wanted and something else is named",
        "Some keys take whole items, neither functions nor givens.",
    ),
    rule(
        "not-a-control",
        "a control is wanted and the item has no positions",
        "Conditions and states speak of controls: items with `positions`.",
    ),
    rule(
        "not-a-given",
        "a given is wanted and an item is named",
        "`givens` of a state sets givens; items are set by the position of controls.",
    ),
    rule(
        "conducts-in-missing",
        "it is not said in which positions a control conducts",
        "Unless the positions are exactly `off` and `on`, nothing tells in which of them a feed passes.",
    ),
    rule(
        "gives-missing",
        "it is not said what others get from a node",
        "A connection carries what its source gives. Kinds that conduct pass on what feeds them; every other source says it.",
    ),
    rule(
        "self-feed",
        "a node feeds itself",
        "A feed from a node to itself holds nothing up, unless it is `(sustained)`: then it keeps up what something else started.",
    ),
    rule(
        "fault-entry-foreign",
        "a fault names under one key what belongs under another",
        "`loses` is for the item and its functions, `takes` for everything else.",
    ),
    rule(
        "both-after-and-like",
        "a state comes after one state and is like another",
        "A state that comes after another starts running; one that is like another starts cold.",
    ),
    rule(
        "both-places",
        "a state is in flight and on the ground",
        "The place of the aircraft decides which controls are in reach and which faults are asked about.",
    ),
    rule(
        "state-loop",
        "states hang on each other in a ring",
        "A state begins cold, or where another ends; a ring of states never begins.",
    ),
    rule(
        "off-with-ring",
        "controls are off with each other in a ring",
        "`off-with` makes one control hang on another; in a ring none could be on.",
    ),
    rule(
        "not-two-lengths",
        "a place or a size is not two lengths",
        "Places and sizes are two lengths: across, then down.",
    ),
    rule(
        "bad-interval",
        "an inspection has no interval that can be counted",
        "Hours are counted by an instrument or as time in service; months and days by the calendar.",
    ),
];
