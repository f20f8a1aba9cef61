//! What may not stand in a page's HTML, whatever somebody wrote on the page.

/// Elements that would run something, bring something in, or change the page around them.
const FORBIDDEN: [&str; 14] = [
    "script",
    "iframe",
    "object",
    "embed",
    "applet",
    "frame",
    "frameset",
    "base",
    "meta",
    "link",
    "style",
    "foreignobject",
    "animate",
    "set",
];

/// Attributes that lead somewhere.
const LEADING: [&str; 5] = ["href", "xlink:href", "src", "action", "formaction"];

/// The first thing in it that no writer of a page may bring in.
pub fn foreign(html: &str) -> Option<String> {
    let mut rest = html;
    while let Some(at) = rest.find('<') {
        rest = &rest[at + 1..];
        let name = rest.split(|letter: char| !letter.is_ascii_alphanumeric() && letter != ':');
        let name = name.clone().next().unwrap_or_default().to_ascii_lowercase();
        if name.is_empty() {
            continue;
        }
        rest = &rest[name.len()..];
        let bare = name.rsplit(':').next().unwrap_or_default();
        if FORBIDDEN.contains(&bare) {
            return Some(format!("<{name}>"));
        }
        while let Some((attribute, value, after)) = attribute(rest) {
            if let Some(fault) = fault(&attribute, value) {
                return Some(format!("<{name} {fault}>"));
            }
            rest = after;
        }
    }
    None
}

/// The next attribute of a tag, its value, and what comes after; none at the tag's end.
fn attribute(tag: &str) -> Option<(String, &str, &str)> {
    let tag = tag.trim_start_matches(|letter: char| letter.is_ascii_whitespace() || letter == '/');
    let end = tag.find(|letter: char| letter.is_ascii_whitespace() || "=>/".contains(letter))?;
    if end == 0 {
        return None;
    }
    let name = tag[..end].to_ascii_lowercase();
    let rest = tag[end..].trim_start_matches(|letter: char| letter.is_ascii_whitespace());
    let Some(value) = rest.strip_prefix('=') else {
        return Some((name, "", &tag[end..]));
    };
    let value = value.trim_start_matches(|letter: char| letter.is_ascii_whitespace());
    let quote = value
        .chars()
        .next()
        .filter(|letter| "\"'".contains(*letter));
    let (value, end) = match quote {
        Some(quote) => (&value[1..], value[1..].find(quote)?),
        None => (
            value,
            value.find(|letter: char| letter.is_ascii_whitespace() || letter == '>')?,
        ),
    };
    let after = &value[end + usize::from(quote.is_some())..];
    Some((name, &value[..end], after))
}

/// What is wrong with an attribute.
fn fault(name: &str, value: &str) -> Option<String> {
    let read: String = letters(value)
        .chars()
        .filter(|letter| !letter.is_whitespace() && !letter.is_control())
        .collect();
    let read = read.to_ascii_lowercase();
    let runs = ["javascript:", "vbscript:", "data:"];
    let runs = LEADING.contains(&name) && runs.iter().any(|scheme| read.starts_with(scheme));
    let forbidden = name.starts_with("on") || ["style", "srcdoc"].contains(&name);
    (runs || forbidden).then(|| format!("{name}={}", value.chars().take(40).collect::<String>()))
}

/// The letters that a value stands for, as far as a scheme may hide in them.
fn letters(value: &str) -> String {
    let mut parts = value.split('&');
    let mut read = parts.next().unwrap_or_default().to_string();
    for part in parts {
        let (entity, rest) = part.split_once(';').unwrap_or((part, ""));
        let number = entity.strip_prefix('#').and_then(|number| {
            let hex = number.strip_prefix(['x', 'X']);
            hex.map_or_else(
                || number.parse().ok(),
                |hex| u32::from_str_radix(hex, 16).ok(),
            )
        });
        match (number.and_then(char::from_u32), entity) {
            (Some(letter), _) => read.push(letter),
            (None, "colon") => read.push(':'),
            (None, "Tab" | "NewLine") => {}
            (None, other) => read.push_str(other),
        }
        read.push_str(rest);
    }
    read
}

#[cfg(test)]
mod tests {
    use super::foreign;

    #[test]
    fn what_a_page_may_not_bring_in_is_found() {
        for html in [
            "<p>a</p><script>b</script>",
            "<svg:script>",
            "<a class=\"x>y\" href='java\nscript:a'>",
            "<a href=\"java&#115;cript&colon;a\">",
            "<img src=x onerror=alert(1)>",
            "<p title=\"a\"onclick='b'>",
            "<iframe/src=a>",
        ] {
            assert!(foreign(html).is_some(), "{html}");
        }
    }

    #[test]
    fn what_is_written_out_is_no_element() {
        for html in [
            "<p>&lt;script&gt; 1 < 2 onclick=3</p>",
            "<a href=\"fit/a.html#javascript:\" title=\"onclick=1 <script>\">a</a>",
            "<br/><input type=\"text\" disabled><p data-on=\"1\">",
        ] {
            assert_eq!(foreign(html), None, "{html}");
        }
    }
}
