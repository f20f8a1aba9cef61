//! Goes along a text, character by character.

/// A place in a text, by its byte.
#[derive(Debug, Clone, Copy)]
pub(super) struct Cursor<'a> {
    pub text: &'a str,
    pub at: usize,
}

impl<'a> Cursor<'a> {
    pub(super) fn peek(&self) -> Option<char> {
        self.text[self.at..].chars().next()
    }

    pub(super) fn next_if(&mut self, wanted: impl Fn(char) -> bool) -> Option<char> {
        let c = self.peek().filter(|c| wanted(*c))?;
        self.at += c.len_utf8();
        Some(c)
    }

    pub(super) fn digits(&mut self) -> &'a str {
        let start = self.at;
        while self.next_if(|c| c.is_ascii_digit()).is_some() {}
        &self.text[start..self.at]
    }
}
