//! What the demonstration's search says to questions, one a line of the standard input.

#[path = "../suite/shown.rs"]
mod shown;

use std::io::BufRead;

use serde_json::Value;

fn text<'v>(value: &'v Value, key: &str) -> &'v str {
    value[key].as_str().unwrap_or_default()
}

fn list<'v>(value: &'v Value, key: &str) -> impl Iterator<Item = &'v Value> {
    value[key].as_array().into_iter().flatten()
}

fn line(one: &Value) -> String {
    if let Some(calculator) = one["calculator"].as_str() {
        let pairs = |key| {
            let pair = |one: &Value| format!("{}={}", text(one, "name"), text(one, "text"));
            list(one, key).map(pair).collect::<Vec<_>>().join(" ")
        };
        let result = list(one, "outputs").next();
        let result = result.map_or(String::new(), |one| {
            format!("{}: {}", text(one, "label"), text(one, "text"))
        });
        let said = |key| {
            list(one, key)
                .map(|one| text(one, "message"))
                .collect::<Vec<_>>()
        };
        let left = format!(
            "{}{}",
            text(one, "left"),
            if one["guessed"] == true {
                " GUESSED"
            } else {
                ""
            }
        );
        let assumed: Vec<&str> = list(one, "assumed").map(|one| text(one, "from")).collect();
        let verdict = text(&one["verdict"], "is");
        return format!(
            "= {calculator} [{}] {result} | {verdict} | {left} | assumed {} {:?} {:?}",
            pairs("given"),
            assumed.len(),
            said("problems"),
            said("doubts"),
        );
    }
    if one["which"].is_array() {
        let way = |way: &Value| {
            let given = list(way, "given")
                .map(|one| format!("{} = {}", text(one, "label"), text(one, "text")));
            format!(
                "{}: {}",
                text(way, "title"),
                given.collect::<Vec<_>>().join(", ")
            )
        };
        let ways: Vec<String> = list(one, "which").map(way).collect();
        return format!("? {}", ways.join(" | "));
    }
    if one["told"].is_object() {
        return format!(
            "? {} {}",
            text(&one["told"], "message"),
            text(&one["told"], "help")
        );
    }
    if one["to"].is_string() {
        return format!("= {} = {}", text(one, "from"), text(one, "to"));
    }
    format!(
        "- {} {} ({})",
        text(one, "kind"),
        text(one, "title"),
        text(one, "url")
    )
}

fn main() {
    for question in std::io::stdin().lock().lines() {
        let question = question.expect("a line of text");
        println!("## {question}");
        for one in shown::shown(&question).iter().take(4) {
            println!("   {}", shown::plain(&line(one)));
        }
    }
}
