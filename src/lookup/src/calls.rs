//! How far a query says what people say for a document.

use crate::index::Index;
use crate::plan::Plan;
use crate::said::ONE_SLIP;

/// How far a title, or what people say for a place, is the query.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Likeness {
    Other,
    SameWords,
    SameOrder,
    /// The title of something that has a page or a line of its own.
    Same,
}

/// Whether what people say for an urgent document is a third of what is said, or more. A number and
/// its unit say nothing of the need: `hit at 10000 psi`.
pub(crate) fn is_called_for(index: &Index, plan: &Plan, document: usize) -> bool {
    index.is_urgent(document)
        && plan.said.iter().any(|said| {
            let content = |place: &usize| {
                let word = &plan.words[*place];
                let measure = word.number || index.asks(&[&word.text]);
                !word.small && (!measure || said.words.contains(place))
            };
            let all = (0..plan.words.len()).filter(content).count();
            let words = said.words.iter().filter(|place| content(place)).count();
            // a saying of several words is less likely said by chance
            let several = said.content > 1;
            let much = words > 0 && (3 + usize::from(several)) * words >= all;
            // a word typed wrong may be any other
            let meant = said.closeness == 1.0 || (several && said.closeness > ONE_SLIP);
            said.sure && meant && !said.apart && much && said.documents.contains(&document)
        })
}

/// How far the whole query is what people say for a document.
pub(crate) fn said_whole(plan: &Plan, document: usize) -> Likeness {
    let said = plan.said.iter();
    let said = said.filter(|said| said.whole && said.documents.contains(&document));
    let said = said.map(|said| match said.closeness == 1.0 {
        true => Likeness::SameOrder,
        false => Likeness::SameWords,
    });
    said.max().unwrap_or(Likeness::Other)
}

/// Whether a saying for a document has all the words that say another, and more: `ambulance has
/// left` asks for no ambulance.
pub(crate) fn says_more(plan: &Plan, document: usize, other: usize) -> bool {
    let of = |document: usize| {
        let said = plan.said.iter().filter(|said| said.sure);
        said.filter(move |said| said.documents.contains(&document))
    };
    of(document).any(|more| {
        let mut all = of(other).filter(|said| !said.apart);
        all.all(|said| {
            more.words.len() > said.words.len()
                && said.words.iter().all(|word| more.words.contains(word))
        })
    })
}

/// How many words that say something there are in the longest saying for a document that is said.
pub(crate) fn said_words(plan: &Plan, document: usize) -> usize {
    let said = plan.said.iter();
    let said = said.filter(|said| said.sure && said.documents.contains(&document));
    said.map(|said| said.content).max().unwrap_or(0)
}
