//! What goes by a name and other names, as a user may write them.

/// A name and its other names, as a user may write them.
pub trait Named {
    /// The name in the catalogue.
    fn name(&self) -> &str;
    /// Other names for the same.
    fn aliases(&self) -> &[String];
    /// Gives it a name and other names.
    fn call(&mut self, name: &str, aliases: Vec<String>);
    /// Takes one of its other names away.
    fn forget(&mut self, alias: &str);

    /// Whether a text means this entry; upper and lower case alike.
    fn is_called(&self, text: &str) -> bool {
        let text = text.trim();
        self.name().eq_ignore_ascii_case(text)
            || self.aliases().iter().any(|a| a.eq_ignore_ascii_case(text))
    }
}

/// The entry that a text names.
pub fn find<'a, T: Named>(list: &'a [T], text: &str) -> Option<&'a T> {
    list.iter().find(|entry| entry.is_called(text))
}
