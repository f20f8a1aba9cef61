//! Words as a page shows them: numbers bound to their units, so that no line ends between them.
//!
//! What the page's engine says later is bound by the engine.

use std::io::{self, Write};

use gaugeleaf_calc::quantity::bind;
use tera::{Kwargs, State, Tera, Value, escape_html};

/// Has every text that a template prints escaped and bound; what stands in an attribute for a
/// script is to stay as it is, and goes through the filter `exact`.
pub fn teach(tera: &mut Tera) {
    tera.set_escape_fn(shown);
    tera.register_filter("exact", exact);
}

fn shown(text: &str, out: &mut dyn Write) -> io::Result<()> {
    escape_html(&bind(text), out)
}

fn exact(text: &str, _: Kwargs, _: &State) -> Value {
    let mut escaped = Vec::new();
    // writing into memory doesn't fail
    let _ = escape_html(text, &mut escaped);
    Value::safe_string(&String::from_utf8_lossy(&escaped))
}

#[cfg(test)]
mod tests {
    use super::*;
    use tera::Context;

    #[test]
    fn numbers_keep_their_units_but_in_what_a_script_reads() {
        let mut tera = Tera::new();
        teach(&mut tera);
        tera.add_raw_template("a.html", "<b data-x=\"{{ x | exact }}\">{{ x }}</b>")
            .expect("a template");
        let mut context = Context::new();
        context.insert("x", "12 3/4 in & more");
        assert_eq!(
            tera.render("a.html", &context).expect("a page"),
            "<b data-x=\"12 3/4 in &amp; more\">12\u{A0}3/4\u{A0}in &amp; more</b>"
        );
    }
}
