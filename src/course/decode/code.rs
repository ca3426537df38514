//! Names of diagnostics. One declared with [`codes!`] stands in the list of its module and cannot be left out of the tests.

/// The stable name of a kind of problem.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Code(&'static str);

impl Code {
    /// A name; called by [`codes!`] alone, so that every name is on a list.
    #[doc(hidden)]
    pub const fn listed(text: &'static str) -> Self {
        Self(text)
    }

    /// The name as text, `unknown-key`.
    pub const fn text(self) -> &'static str {
        self.0
    }
}

/// Declares diagnostics and `CODES`, the list of them.
macro_rules! codes {
    ($($(#[$doc:meta])* $name:ident = $text:literal;)*) => {
        $($(#[$doc])* pub const $name: $crate::course::decode::Code = $crate::course::decode::Code::listed($text);)*
        /// Every diagnostic declared here.
        pub const CODES: &[$crate::course::decode::Code] = &[$($name),*];
    };
}
pub(crate) use codes;
