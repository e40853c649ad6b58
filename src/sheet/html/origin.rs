//! Where a number is from, in words.

use crate::job::resolve::Origin;
use crate::stock::Certainty;

/// Where a number is from.
pub fn words(origin: &Origin) -> String {
    match origin {
        Origin::Job => "your job, or its default".into(),
        Origin::Bench(file) => file.clone(),
        Origin::Worked(from) => format!("worked out from {from}"),
        Origin::Stock(source, sure) => format!("{} ({})", source.trim(), certainty(*sure)),
    }
}

/// How sure, in a word.
fn certainty(sure: Certainty) -> &'static str {
    match sure {
        Certainty::Read => "read",
        Certainty::Computed => "computed",
        Certainty::Memory => "recalled",
        Certainty::Judgement => "judged",
        Certainty::Own => "your own",
    }
}
