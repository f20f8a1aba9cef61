//! The paths among a macro's tokens.

use proc_macro2::{Delimiter, Spacing, TokenStream, TokenTree};

use super::tree::plain;

/// A path as a macro's tokens have it.
pub struct Written {
    pub path: Vec<String>,
    pub line: usize,
}

/// Every path, those within brackets too. A single name counts where it is called, or begins
/// with a capital letter: others are nearly always variables.
pub fn paths(tokens: TokenStream) -> Vec<Written> {
    let tokens: Vec<TokenTree> = tokens.into_iter().collect();
    let mut found = Vec::new();
    let mut at = 0;
    while at < tokens.len() {
        match &tokens[at] {
            TokenTree::Group(group) => found.extend(paths(group.stream())),
            TokenTree::Ident(name) if !is_member(&tokens[..at]) => {
                let line = name.span().start().line;
                let (path, end) = path(&tokens, at);
                let called = match tokens.get(end) {
                    Some(TokenTree::Group(group)) => group.delimiter() == Delimiter::Parenthesis,
                    Some(TokenTree::Punct(mark)) => mark.as_char() == '!',
                    _ => false,
                };
                if called || path.len() > 1 || path[0].starts_with(char::is_uppercase) {
                    found.push(Written { path, line });
                }
                at = end;
                continue;
            }
            _ => {}
        }
        at += 1;
    }
    found
}

/// Whether a dot stands before: a field or a method. Two dots are a range.
fn is_member(before: &[TokenTree]) -> bool {
    let dot = |token: &TokenTree| matches!(token, TokenTree::Punct(mark) if mark.as_char() == '.');
    match before {
        [.., range, last] => dot(last) && !dot(range),
        [last] => dot(last),
        [] => false,
    }
}

/// The path that begins at a name, and where it ends. `$crate` is the crate: the mark before the
/// name is passed over.
fn path(tokens: &[TokenTree], start: usize) -> (Vec<String>, usize) {
    let mut path = Vec::new();
    if is_colons(tokens, start.wrapping_sub(2)) {
        path.push(String::new());
    }
    let mut at = start;
    while let Some(TokenTree::Ident(name)) = tokens.get(at) {
        path.push(plain(name));
        at += 1;
        if is_colons(tokens, at) && matches!(tokens.get(at + 2), Some(TokenTree::Ident(_))) {
            at += 2;
        } else {
            break;
        }
    }
    (path, at)
}

fn is_colons(tokens: &[TokenTree], at: usize) -> bool {
    matches!(
        (tokens.get(at), tokens.get(at.wrapping_add(1))),
        (Some(TokenTree::Punct(first)), Some(TokenTree::Punct(second)))
            if first.as_char() == ':' && first.spacing() == Spacing::Joint && second.as_char() == ':'
    )
}
