//! Scripts with their texts: `worded("id", { place: … })` becomes the text itself when the theme is
//! read, so that a page fetches no text that it doesn't show.

use std::ops::Range;

use crate::language::{TextParts, script_text};

const CALL: &str = "worded(";

/// What is wrong with a call, and where.
#[derive(Debug, PartialEq, Eq)]
pub struct ScriptFault {
    pub span: Range<usize>,
    pub message: String,
}

/// The script with each call replaced.
///
/// # Errors
/// The first call that names no text, or doesn't fill its places.
pub fn worded(script: &str) -> Result<String, ScriptFault> {
    let mut reader = CallReader { script, at: 0 };
    let mut made = String::new();
    while let Some(found) = script[reader.at..].find(CALL) {
        let start = reader.at + found;
        made.push_str(&script[reader.at..start]);
        reader.at = start + CALL.len();
        let before = script[..start].chars().next_back();
        if before.is_some_and(|c| c.is_alphanumeric() || matches!(c, '_' | '$' | '.')) {
            made.push_str(CALL);
            continue;
        }
        made.push_str(&reader.call(start)?);
    }
    made.push_str(&script[reader.at..]);
    Ok(made)
}

struct CallReader<'s> {
    script: &'s str,
    at: usize,
}

impl<'s> CallReader<'s> {
    /// What stands for a call that opened before; reads on behind it.
    fn call(&mut self, start: usize) -> Result<String, ScriptFault> {
        let id = self.id().unwrap_or_default();
        let given = self.given();
        let span = start..self.at;
        let fault = |message: String| ScriptFault {
            span: span.clone(),
            message,
        };
        let Some(given) = given else {
            return Err(fault("write worded(\"id\", { place: … })".to_string()));
        };
        let Some(text) = script_text(id) else {
            return Err(fault(format!("the language has no text `{id}`")));
        };
        let places = || text.iter().skip(1).step_by(2);
        if let Some((strange, _)) = given.iter().find(|(name, _)| !places().any(|p| p == name)) {
            return Err(fault(format!("the text `{id}` has no place `{strange}`")));
        }
        let empty = places().find(|place| given.iter().all(|(name, _)| name != *place));
        if let Some(place) = empty {
            return Err(fault(format!("the text `{id}` has a place `{place}`")));
        }
        said(text, &given)
    }

    fn id(&mut self) -> Option<&'s str> {
        let rest = self.script[self.at..].strip_prefix('"')?;
        let end = rest.find('"')?;
        self.at += end + 2;
        Some(&rest[..end])
    }

    /// The places and what is put into each, up to the end of the call.
    fn given(&mut self) -> Option<Vec<(&'s str, &'s str)>> {
        let mut given = Vec::new();
        self.skip_space();
        if self.take(',') {
            self.skip_space();
            if !self.take('{') {
                return None;
            }
            loop {
                let one = self.expression(&[',', '}'])?;
                let (name, value) = one.split_once(':').unwrap_or((one, one));
                if !one.trim().is_empty() {
                    given.push((name.trim(), value.trim()));
                }
                if self.take('}') {
                    break;
                }
                self.take(',');
            }
            self.skip_space();
        }
        self.take(')').then_some(given)
    }

    fn skip_space(&mut self) {
        let rest = &self.script[self.at..];
        self.at += rest.len() - rest.trim_start().len();
    }

    fn take(&mut self, mark: char) -> bool {
        let here = self.script[self.at..].starts_with(mark);
        if here {
            self.at += mark.len_utf8();
        }
        here
    }

    /// Reads up to one of these marks, over whatever is in brackets or quotes.
    fn expression(&mut self, ends: &[char]) -> Option<&'s str> {
        let start = self.at;
        let mut depth = 0_usize;
        while let Some(c) = self.script[self.at..].chars().next() {
            if depth == 0 && ends.contains(&c) {
                return Some(&self.script[start..self.at]);
            }
            self.at += c.len_utf8();
            match c {
                '(' | '[' | '{' => depth += 1,
                ')' | ']' | '}' => depth = depth.checked_sub(1)?,
                '"' | '\'' | '`' => self.quoted(c)?,
                _ => {}
            }
        }
        None
    }

    /// Reads to the end of what a quote opened; a template holds expressions of its own.
    fn quoted(&mut self, quote: char) -> Option<()> {
        while let Some(c) = self.script[self.at..].chars().next() {
            self.at += c.len_utf8();
            match c {
                '\\' => self.at += self.script[self.at..].chars().next()?.len_utf8(),
                '$' if quote == '`' && self.take('{') => {
                    self.expression(&['}'])?;
                    self.take('}');
                }
                c if c == quote => return Some(()),
                _ => {}
            }
        }
        None
    }
}

/// The text as an expression: a string, or strings and values put together.
fn said(text: TextParts, given: &[(&str, &str)]) -> Result<String, ScriptFault> {
    let quoted = |words: &str| serde_json::Value::from(words).to_string();
    if let [words] = text {
        return Ok(quoted(words));
    }
    // the first is a string in any case, so that two numbers are never added up
    let mut parts = vec![quoted(text[0])];
    for (at, part) in text.iter().enumerate().skip(1) {
        if at % 2 == 0 {
            if !part.is_empty() {
                parts.push(quoted(part));
            }
        } else if let Some((_, value)) = given.iter().find(|(name, _)| name == part) {
            let value = worded(value)?;
            let name = |c: char| c.is_alphanumeric() || matches!(c, '_' | '.');
            let plain = value.chars().all(name);
            parts.push(if plain { value } else { format!("({value})") });
        }
    }
    Ok(format!("({})", parts.join("+")))
}

#[cfg(test)]
mod tests {
    use super::worded;

    #[test]
    fn a_call_becomes_its_text() {
        assert_eq!(
            worded("a = worded(\"share.copied\"); b.worded(1); unworded(2);").as_deref(),
            Ok("a = \"Copied.\"; b.worded(1); unworded(2);")
        );
        assert_eq!(
            worded("worded(\"ticks.ticked\", { time: clock(`${a}, ${f({ b: \"}\" })}`) })")
                .as_deref(),
            Ok("(\"Ticked \"+(clock(`${a}, ${f({ b: \"}\" })}`)))")
        );
        assert_eq!(
            worded("worded(\"tube_map.row_same\", {\n  row,\n  left: of.left,\n})").as_deref(),
            Ok("(\"Row \"+row+\": nothing changed.\"+of.left)")
        );
    }

    #[test]
    fn a_text_stands_in_a_place_of_another() {
        assert_eq!(
            worded("worded(\"ticks.ticked\", { time: a ?? worded(\"share.copied\") })").as_deref(),
            Ok("(\"Ticked \"+(a ?? \"Copied.\"))")
        );
    }

    #[test]
    fn a_call_that_says_nothing_is_a_fault_in_its_place() {
        for (script, told) in [
            ("; worded(\"share.no\")", "no text `share.no`"),
            ("; worded(\"share.copied\", { a })", "no place `a`"),
            ("; worded(\"ticks.ticked\")", "a place `time`"),
            ("; worded(id)", "write worded("),
            ("; worded(\"ticks.ticked\", { time", "write worded("),
        ] {
            let fault = worded(script).expect_err("a fault");
            assert!(fault.message.contains(told), "{}", fault.message);
            assert_eq!(fault.span.start, 2, "{script}");
        }
    }
}
