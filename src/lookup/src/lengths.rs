//! What a word is worth in a title or text of some length.

const TITLE: f32 = 2.6;
/// How soon a word said again adds nothing, and how much a long text is held back.
const SATURATION: f32 = 1.2;
const LENGTH: f32 = 0.6;

/// How much the length of a document's title and text holds back what is found there.
#[derive(Clone, Copy, Default)]
pub(crate) struct Lengths {
    /// What a word of the title is worth.
    pub(crate) title: f32,
    /// What a word is worth that stands once in the text; most do.
    once: f32,
    text_drag: f32,
}

impl Lengths {
    /// Of a title and a text so long, against those of mean length.
    pub(crate) fn new(title: f32, text: f32) -> Lengths {
        let text_drag = SATURATION * (1.0 - LENGTH + LENGTH * text);
        Lengths {
            title: TITLE / (0.7 + 0.3 * title),
            once: worth(1.0, text_drag),
            text_drag,
        }
    }

    /// What a word is worth that stands so often in the text.
    #[inline]
    pub(crate) fn text(self, times: u32) -> f32 {
        match times {
            1 => self.once,
            _ => worth(times as f32, self.text_drag),
        }
    }
}

fn worth(times: f32, drag: f32) -> f32 {
    times * (SATURATION + 1.0) / (times + drag)
}
