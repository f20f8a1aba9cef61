//! A text as a QR code, drawn so that a camera reads it off a scratched screen.

use qrcodegen::{QrCode, QrCodeEcc};

use crate::json::JsonValue;
use crate::object::ObjectValue::Text;
use crate::object::object;
use crate::request;

/// White modules on every side, without which a camera finds no code.
const QUIET: i32 = 4;
/// Millimetres a module in print.
const MODULE: f64 = 0.9;
/// Past this many modules a phone's screen is too small to show the code.
const LARGEST: i32 = 117;

/// Answers `{"text": "…"}` with the code, and how much of it may be covered.
pub(crate) fn qr(request: &JsonValue) -> Result<JsonValue, String> {
    let text = request::text(request, "text")?;
    Ok(match code(text) {
        Some((code, level)) => object(&mut [("svg", Text(&svg(&code))), ("level", Text(level))]),
        None => object(&mut [("problem", Text("the text is too long for a QR code"))]),
    })
}

/// A text as a QR code; none where it is too long for one.
pub fn code_svg(text: &str) -> Option<String> {
    code(text).map(|(code, _)| svg(&code))
}

/// The code that bears the most glare, and how much that is.
fn code(text: &str) -> Option<(QrCode, &'static str)> {
    // A quarter of the code may be lost to glare at level Q.
    for (level, word) in [
        (QrCodeEcc::Quartile, "quartile"),
        (QrCodeEcc::Medium, "medium"),
        (QrCodeEcc::Low, "low"),
    ] {
        if let Ok(code) = QrCode::encode_text(text, level)
            && code.size() <= LARGEST
        {
            return Some((code, word));
        }
    }
    None
}

fn svg(code: &QrCode) -> String {
    let side = code.size() + 2 * QUIET;
    let mut dark = String::new();
    for y in 0..code.size() {
        let mut x = 0;
        while x < code.size() {
            let run = (x..code.size())
                .take_while(|x| code.get_module(*x, y))
                .count() as i32;
            if run > 0 {
                dark.push_str(&format!("M{} {}h{run}v1h-{run}z", x + QUIET, y + QUIET));
            }
            x += run.max(1);
        }
    }
    let width = f64::from(side) * MODULE;
    format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {side} {side}\" width=\"{width:.1}mm\" \
         height=\"{width:.1}mm\" shape-rendering=\"crispEdges\"><path fill=\"#fff\" d=\"M0 0h{side}v{side}H0z\"/>\
         <path fill=\"#000\" d=\"{dark}\"/></svg>"
    )
}
