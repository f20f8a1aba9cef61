//! What a document is, and how much that counts.

/// What a hit leads to.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum DocumentKind {
    Page,
    #[default]
    Heading,
    Step,
    Calculator,
    Input,
    Row,
    Value,
    Term,
}

const ALL: [DocumentKind; 8] = [
    DocumentKind::Page,
    DocumentKind::Heading,
    DocumentKind::Step,
    DocumentKind::Calculator,
    DocumentKind::Input,
    DocumentKind::Row,
    DocumentKind::Value,
    DocumentKind::Term,
];

impl DocumentKind {
    pub(crate) fn code(self) -> u8 {
        self as u8
    }

    pub(crate) fn from_code(code: u8) -> Option<DocumentKind> {
        ALL.get(usize::from(code)).copied()
    }

    /// The weight of a kind for a query that asks for a value.
    pub(crate) fn weight(self) -> f32 {
        match self {
            DocumentKind::Page => 1.1,
            DocumentKind::Calculator => 1.2,
            DocumentKind::Heading
            | DocumentKind::Row
            | DocumentKind::Value
            | DocumentKind::Term => 1.0,
            DocumentKind::Step | DocumentKind::Input => 0.95,
        }
    }

    /// The weight of a kind for any other: what is to be done stands before what can be worked out.
    pub(crate) fn plain_weight(self) -> f32 {
        match self {
            DocumentKind::Page => 1.1,
            DocumentKind::Heading | DocumentKind::Row => 1.0,
            DocumentKind::Term => 0.95,
            DocumentKind::Step => 0.85,
            DocumentKind::Calculator => 0.8,
            DocumentKind::Value => 0.6,
            DocumentKind::Input => 0.5,
        }
    }

    /// The further weight of what gives a value, for a query that looks for one.
    pub(crate) fn value_weight(self) -> f32 {
        match self {
            DocumentKind::Calculator | DocumentKind::Row | DocumentKind::Value => 1.5,
            DocumentKind::Input => 1.2,
            DocumentKind::Page
            | DocumentKind::Heading
            | DocumentKind::Step
            | DocumentKind::Term => 1.0,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_kind_is_known_by_its_code() {
        for kind in ALL {
            assert_eq!(DocumentKind::from_code(kind.code()), Some(kind));
        }
        assert_eq!(DocumentKind::from_code(8), None);
    }
}
