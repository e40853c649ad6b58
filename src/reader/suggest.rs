//! What to suggest in place of a name that is not known.

/// The nearest of some names, if any is near enough to be a slip of the keyboard.
pub fn nearest<'a>(word: &str, names: impl Iterator<Item = &'a str>) -> Option<&'a str> {
    let word = word.trim().to_lowercase();
    let long = word.chars().count();
    let slips = |name: &str| (name.chars().count() / 3).max(1);
    names
        // A word that is far too long need not be compared, which takes its length in memory.
        .filter(|name| name.chars().count().abs_diff(long) <= slips(name))
        .map(|name| (strsim::damerau_levenshtein(&word, &name.to_lowercase()), name))
        .filter(|(distance, name)| *distance <= slips(name))
        .min_by_key(|(distance, name)| (*distance, !name.to_lowercase().starts_with(&word)))
        .map(|(_, name)| name)
}

/// Names joined for a message: `"a", "b", "c"`.
pub fn quoted<'a>(names: impl Iterator<Item = &'a str>) -> String {
    names.map(|n| format!("\"{n}\"")).collect::<Vec<_>>().join(", ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn slips_find_their_key() {
        let keys = ["thickness", "depth", "detail", "gap"];
        assert_eq!(nearest("thicknes", keys.into_iter()), Some("thickness"));
        assert_eq!(nearest("dept", keys.into_iter()), Some("depth"));
        assert_eq!(nearest("Depth", keys.into_iter()), Some("depth"));
        assert_eq!(nearest("colour", keys.into_iter()), None);
        assert_eq!(nearest("LR2", ["LR6", "LR20"].into_iter()), Some("LR20"));
    }
}
