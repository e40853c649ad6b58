//! What a new job asks for: about eight things, some in two or three parts.

/// One question.
#[derive(Debug)]
pub struct Question {
    /// The key that the answer fills.
    pub key: &'static str,
    /// The question.
    pub asks: &'static str,
    /// What it means and how an answer is written, in one line.
    pub tells: &'static str,
    /// Asked only where the source is of this kind, or the bare share comes of a "picture".
    pub only: Option<&'static str>,
}

const fn ask(key: &'static str, asks: &'static str, tells: &'static str) -> Question {
    Question { key, asks, tells, only: None }
}

const fn of(
    only: &'static str,
    key: &'static str,
    asks: &'static str,
    tells: &'static str,
) -> Question {
    Question { key, asks, tells, only: Some(only) }
}

/// The questions in their order.
pub const QUESTIONS: [Question; 24] = [
    ask("title", "What do you call the piece?", "Any words; they head the bench sheet."),
    ask(
        "piece.metal",
        "Which metal is the sheet?",
        "sterling, fine silver, copper, brass, nickel silver and others.",
    ),
    ask(
        "piece.outline",
        "How large is the whole face?",
        "Two sides as in 42 mm x 28 mm or 2 in x 1.5 in, or 60 mm round.",
    ),
    ask(
        "piece.exposed",
        "How much of that face is bare of resist?",
        "A share as in 34 %, or the name of a PNG picture in which dark is bare.",
    ),
    of(
        "picture",
        "piece.artwork_width",
        "How wide is the whole picture on the sheet?",
        "A length: 42 mm, 1.5 in.",
    ),
    ask(
        "piece.resist",
        "What covers the rest of it?",
        "packing tape, vinyl, asphaltum varnish, toner transfer and others.",
    ),
    ask(
        "piece.thickness",
        "How thick is the sheet?",
        "A length or a gauge: 1.2 mm, 1/16 in, 18 ga.",
    ),
    ask(
        "piece.depth",
        "How deep should the recess be?",
        "A length: 0.35 mm, 14 thou. Less than the sheet is thick.",
    ),
    ask(
        "bath.electrolyte",
        "Which salt is in the bath?",
        "copper nitrate, copper sulphate, brine and others; silver wants a nitrate.",
    ),
    ask(
        "bath.concentration",
        "How strong is it?",
        "Moles of salt in a litre: 0.45 mol/L. Stronger lets more current through.",
    ),
    ask(
        "bath.pan",
        "How large is the metal pan inside?",
        "Two sides, or 160 mm round. It is the cathode; the sheet hangs over it.",
    ),
    ask("bath.volume", "How much bath is in it?", "A volume: 700 mL, 24 fl oz."),
    ask(
        "bath.gap",
        "How far is it from the sheet's face down to the pan?",
        "A length: 25 mm, 1 in. Wider is slower, and more even.",
    ),
    ask(
        "source.kind",
        "What drives the current?",
        "pack (cells), supply (a regulated one) or adapter (a plain plug-in one).",
    ),
    of(
        "pack",
        "source.cell",
        "Which cells?",
        "By IEC name: LR20 is a D cell, LR14 a C, LR6 an AA, HR6 a rechargeable AA.",
    ),
    of("pack", "source.series", "How many in series?", "Plus to minus, one behind the other: 3."),
    of("pack", "source.holder", "In which holder?", "open tray, closed box or single."),
    of("supply", "source.voltage", "Which voltage is set?", "A voltage: 3.2 V."),
    of("supply", "source.current_limit", "Which current limit is set?", "A current: 1.3 A."),
    of(
        "adapter",
        "source.open_voltage",
        "What does it give with nothing connected?",
        "A voltage, by a meter: 4.6 V.",
    ),
    of("adapter", "source.rated_voltage", "Which voltage does its label say?", "As in 3 V."),
    of("adapter", "source.rated_current", "At which current?", "Also on the label: 2.2 A."),
    ask("leads.wire", "Which wire are the leads?", "A gauge, AWG 20, or a section, 0.75 mm2."),
    ask("leads.length", "How long is one lead?", "A length, one way: 45 cm, 18 in."),
];

/// What is offered for a key, the first that fits first. The numbers are invented: a fern
/// cloak pin in sterling, to have something to begin with.
pub fn plain_defaults(key: &str) -> &'static [&'static str] {
    match key {
        "title" => &["Fern cloak pin"],
        "piece.metal" => &["sterling"],
        "piece.outline" => &["42 mm x 28 mm"],
        "piece.exposed" => &["34 %"],
        "piece.resist" => &["packing tape"],
        "piece.thickness" => &["1.2 mm"],
        "piece.depth" => &["0.35 mm", "0.2 mm", "0.1 mm", "0.05 mm", "0.02 mm"],
        "bath.electrolyte" => &["copper nitrate"],
        "bath.concentration" => &["0.45 mol/L"],
        "bath.pan" => &["150 mm x 100 mm", "250 mm x 200 mm", "400 mm x 300 mm", "1 m x 1 m"],
        "bath.gap" => &["25 mm", "15 mm", "10 mm", "5 mm", "2 mm", "0.5 mm"],
        "source.kind" => &["pack"],
        "source.cell" => &["LR20"],
        "source.series" => &["3"],
        "source.holder" => &["open tray"],
        "source.voltage" => &["3.2 V"],
        "source.current_limit" => &["1.3 A"],
        "source.open_voltage" => &["4.6 V"],
        "source.rated_voltage" => &["3 V", "2 V", "1 V", "0.1 V"],
        "source.rated_current" => &["2.2 A"],
        "leads.wire" => &["AWG 20"],
        "leads.length" => &["45 cm"],
        _ => &[],
    }
}
