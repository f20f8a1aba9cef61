//! What a document is, and how much that counts.

/// What a hit leads to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Kind {
    Page,
    Heading,
    Step,
    Calculator,
    Input,
    Row,
    Value,
    Term,
}

const ALL: [Kind; 8] = [
    Kind::Page,
    Kind::Heading,
    Kind::Step,
    Kind::Calculator,
    Kind::Input,
    Kind::Row,
    Kind::Value,
    Kind::Term,
];

impl Kind {
    pub(crate) fn code(self) -> u8 {
        self as u8
    }

    pub(crate) fn from_code(code: u8) -> Option<Kind> {
        ALL.get(usize::from(code)).copied()
    }

    /// The weight of a kind when nothing else speaks for it.
    pub(crate) fn weight(self) -> f32 {
        match self {
            Kind::Page => 1.1,
            Kind::Calculator => 1.2,
            Kind::Heading | Kind::Row | Kind::Value | Kind::Term => 1.0,
            Kind::Step | Kind::Input => 0.95,
        }
    }

    /// The further weight of what gives a value, for a query that looks for one.
    pub(crate) fn value_weight(self) -> f32 {
        match self {
            Kind::Calculator | Kind::Row | Kind::Value => 1.5,
            Kind::Input => 1.2,
            Kind::Page | Kind::Heading | Kind::Step | Kind::Term => 1.0,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_kind_is_known_by_its_code() {
        for kind in ALL {
            assert_eq!(Kind::from_code(kind.code()), Some(kind));
        }
        assert_eq!(Kind::from_code(8), None);
    }
}
