//! The shape that the closed word lists of the ingredient table share: a word in the file, a variant in the
//! code, nothing in between. Holds no list itself.

/// Declares an enum whose variants each have one word, the one that the table files use.
macro_rules! closed_list {
    ($(#[$doc:meta])* $name:ident { $($(#[$variant_doc:meta])* $variant:ident = $id:literal,)+ }) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum $name { $($(#[$variant_doc])* $variant,)+ }

        impl $name {
            /// Every value, in the order of the declaration.
            pub const ALL: &'static [Self] = &[$(Self::$variant,)+];

            /// Gives the word that the table files use.
            #[must_use]
            pub const fn id(self) -> &'static str {
                match self { $(Self::$variant => $id,)+ }
            }

            /// Finds the value of a word; nothing for a word outside the list.
            #[must_use]
            pub fn from_id(id: &str) -> Option<Self> {
                match id { $($id => Some(Self::$variant),)+ _ => None }
            }
        }
    };
}

pub(super) use closed_list;
