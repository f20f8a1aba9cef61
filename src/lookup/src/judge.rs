//! Second judgement, over the texts of the best documents: order, neighbours, marks.

use crate::calls::Likeness;
use crate::excerpt::Mark;
use crate::fold::shorten;
use crate::index::Index;
use crate::kind::DocumentKind;
use crate::plan::Plan;
use crate::score::{IN_SIGHT, Scored};
use crate::stem::stem;
use crate::token::{each_token, tokens};
use std::cmp::Ordering;

/// How many documents are read again, and how much of each.
const READ_AGAIN: usize = 12;
const MOST_BYTES: usize = 6_000;
/// What words side by side, as in the query, add to a score.
const NEIGHBOURS: f32 = 0.35;
/// How much of its best other place's score a page adds to each.
const SAME_PAGE: f32 = 0.4;

/// A document in its final place.
pub(crate) struct Judged {
    pub(crate) document: usize,
    pub(crate) score: f32,
    /// It holds every word of the query.
    pub(crate) whole: bool,
    /// The words of the query that it holds by a far reading alone, a bit each.
    pub(crate) far: u16,
    /// What a word means that leads here: the document that tells it.
    pub(crate) means: Option<usize>,
    below: bool,
    /// It is urgent, and what people say for it is said.
    pub(crate) called: bool,
    call: usize,
    /// Byte ranges of the text that the query matched, in order.
    pub(crate) marks: Vec<Mark>,
    likeness: Likeness,
    own_title: bool,
    page: String,
    pub(crate) title: String,
    pub(crate) text: String,
}

/// What a word of a document may stand for in the query.
struct QueryStem {
    stem: String,
    word: usize,
    closeness: f32,
}

/// Puts the best documents in their final order: at most `limit` to be shown, and the numbers
/// of those that come next, up to `ahead` in all.
pub(crate) fn judge(
    index: &Index,
    plan: &Plan,
    scored: Vec<Scored>,
    limit: usize,
    ahead: usize,
) -> (Vec<Judged>, Vec<usize>) {
    let read = limit.max(READ_AGAIN);
    let scored = best(scored, read.max(ahead));
    let wanted = AllWanted::of(plan);
    let (again, rest) = scored.split_at(read.min(scored.len()));
    let mut judged: Vec<Judged> = again
        .iter()
        .map(|scored| read_again(index, plan, &wanted, scored))
        .collect();
    add_page(&mut judged);
    judged.sort_unstable_by(|a, b| {
        let same = |one: &Judged| one.likeness >= Likeness::SameOrder;
        same(b)
            .cmp(&same(a))
            .then(b.call.cmp(&a.call))
            .then(b.likeness.cmp(&a.likeness))
            .then(b.own_title.cmp(&a.own_title))
            .then(a.below.cmp(&b.below))
            .then(descending(a.score, b.score))
            .then(a.document.cmp(&b.document))
    });
    let mut judged = follow(index, plan, &wanted, judged);
    set_apart(&mut judged);
    let below = judged.iter().skip(limit).map(|judged| judged.document);
    let further = below.chain(rest.iter().map(|scored| scored.document));
    let further = further.take(ahead.saturating_sub(limit)).collect();
    judged.truncate(limit);
    (judged, further)
}

/// A page that has the words in several places is more likely meant than one that has them in one.
fn add_page(judged: &mut [Judged]) {
    let scores: Vec<f32> = judged.iter().map(|one| one.score).collect();
    for at in 0..judged.len() {
        let mut most = 0.0f32;
        for (other, score) in scores.iter().enumerate() {
            if other != at && judged[other].page == judged[at].page {
                most = most.max(*score);
            }
        }
        judged[at].score += SAME_PAGE * most;
    }
}

/// The best `most`, best first: few of very many, so that sorting all would be a waste.
fn best(scored: Vec<Scored>, most: usize) -> Vec<Scored> {
    let above = |a: &Scored, b: &Scored| {
        b.call
            .cmp(&a.call)
            .then(b.whole_title.cmp(&a.whole_title))
            .then(b.own_title.cmp(&a.own_title))
            .then(a.below.cmp(&b.below))
            .then(descending(a.score, b.score))
            .then(a.document.cmp(&b.document))
            .is_lt()
    };
    let mut best: Vec<Scored> = Vec::with_capacity(most + 1);
    for one in scored {
        if best.len() < most || best.last().is_some_and(|last| above(&one, last)) {
            let place = best.partition_point(|other| above(other, &one));
            best.insert(place, one);
            best.truncate(most);
        }
    }
    best
}

/// Puts the place that a term leads to where the term stands, or where it stands itself if that is
/// better; the term becomes what is told there.
fn follow(index: &Index, plan: &Plan, wanted: &AllWanted, judged: Vec<Judged>) -> Vec<Judged> {
    let mut done: Vec<Judged> = Vec::with_capacity(judged.len());
    for one in judged {
        let shown = done.iter_mut().find(|other| other.document == one.document);
        if shown.is_some() {
            continue;
        }
        let Some(to) = index.leads(one.document) else {
            done.push(one);
            continue;
        };
        match done.iter_mut().find(|other| other.document == to) {
            Some(place) if place.means.is_none() => place.means = Some(one.document),
            // the place tells of another word
            Some(_) => done.push(one),
            None => {
                let led = Scored {
                    document: to,
                    score: one.score,
                    whole: one.whole,
                    whole_title: false,
                    own_title: one.own_title,
                    said: Likeness::Other,
                    far: one.far,
                    below: one.below,
                    called: false,
                    call: one.call,
                };
                done.push(Judged {
                    means: Some(one.document),
                    ..read_again(index, plan, wanted, &led)
                });
            }
        }
    }
    done
}

/// Three pages are in sight before a second place of one of them: whoever doesn't find it on the
/// first looks at the next.
fn set_apart(judged: &mut [Judged]) {
    for place in 0..IN_SIGHT.min(judged.len()) {
        let (seen, rest) = judged.split_at(place);
        let is_other = |one: &Judged| seen.iter().all(|before| before.page != one.page);
        let Some(at) = rest.iter().position(is_other) else {
            return;
        };
        judged[place..=place + at].rotate_right(1);
    }
}

/// The page that a document stands on; each row of a table answers for itself.
fn page(index: &Index, document: usize) -> String {
    let mut page = index.url(document);
    if index.kind(document) != DocumentKind::Row {
        page.truncate(page.find('#').unwrap_or(page.len()));
    }
    page
}

fn descending(a: f32, b: f32) -> Ordering {
    b.partial_cmp(&a).unwrap_or(Ordering::Equal)
}

/// All that the words of a query may stand for.
struct AllWanted {
    /// In the order of their stems.
    list: Vec<QueryStem>,
    /// One bit for each beginning of a stem, folded small: most words of a text are told
    /// apart by it.
    starts: [u64; 16],
}

impl AllWanted {
    fn of(plan: &Plan) -> AllWanted {
        let mut list = Vec::new();
        for (number, word) in plan.words.iter().enumerate() {
            for way in &word.ways {
                list.extend(way.parts.iter().map(|part| QueryStem {
                    stem: stem(&part.text),
                    word: number,
                    closeness: way.closeness,
                }));
            }
        }
        list.sort_by(|a, b| {
            a.stem
                .cmp(&b.stem)
                .then(descending(a.closeness, b.closeness))
        });
        let mut starts = [0; 16];
        for wanted in &list {
            let (place, bit) = start(&wanted.stem);
            starts[place] |= bit;
        }
        AllWanted { list, starts }
    }

    /// What a word of a text may stand for.
    fn by(&self, token: &str) -> &[QueryStem] {
        let (place, bit) = start(token);
        if self.starts[place] & bit == 0 {
            return &[];
        }
        let stem = stem(token);
        let first = self.list.partition_point(|wanted| wanted.stem < stem);
        let rest = &self.list[first..];
        &rest[..rest.partition_point(|wanted| wanted.stem == stem)]
    }
}

/// The first two letters, which a stem keeps, as a place among bits.
fn start(word: &str) -> (usize, u64) {
    let letter = |at: usize| usize::from(word.as_bytes().get(at).copied().unwrap_or(0));
    (
        letter(0) % 16,
        1 << (letter(0) / 16 % 2 * 32 + letter(1) % 32),
    )
}

fn read_again(index: &Index, plan: &Plan, wanted: &AllWanted, scored: &Scored) -> Judged {
    let title = index.title(scored.document);
    let text = index.text(scored.document);
    let in_title = matches(&title, wanted);
    let in_text = matches(shorten(&text, MOST_BYTES), wanted);

    let mut best: Vec<Option<&QueryStem>> = vec![None; plan.words.len()];
    for wanted in in_title
        .iter()
        .chain(&in_text)
        .flat_map(|found| found.wanted)
    {
        let better = best[wanted.word].is_none_or(|best| best.closeness < wanted.closeness);
        if better {
            best[wanted.word] = Some(wanted);
        }
    }
    let pairs = neighbours(&in_title, plan).max(neighbours(&in_text, plan));
    Judged {
        document: scored.document,
        score: scored.score * (1.0 + NEIGHBOURS * pairs),
        whole: scored.whole,
        far: scored.far,
        means: None,
        below: scored.below,
        called: scored.called,
        call: scored.call,
        own_title: scored.own_title,
        page: page(index, scored.document),
        marks: marks(&in_text, &best),
        likeness: match scored.whole_title {
            true => compare_title(index.kind(scored.document), &title, plan).max(scored.said),
            false => scored.said,
        },
        title,
        text,
    }
}

/// A token that the query wants.
struct Match<'a> {
    place: usize,
    start: usize,
    end: usize,
    /// What it may stand for.
    wanted: &'a [QueryStem],
}

fn matches<'a>(text: &str, wanted: &'a AllWanted) -> Vec<Match<'a>> {
    let mut found = Vec::new();
    let mut place = 0;
    each_token(text, |token, start, end| {
        let wanted = wanted.by(token);
        if !wanted.is_empty() {
            found.push(Match {
                place,
                start,
                end,
                wanted,
            });
        }
        place += 1;
    });
    found
}

/// The part of the query's neighbouring words that are neighbours here too.
fn neighbours(found: &[Match<'_>], plan: &Plan) -> f32 {
    let pairs = plan.words.len().saturating_sub(1);
    if pairs == 0 {
        return 0.0;
    }
    let mut seen = vec![false; pairs];
    for pair in found.windows(2) {
        let (left, right) = (&pair[0], &pair[1]);
        if left.place + 1 == right.place {
            for word in left.wanted.iter().map(|wanted| wanted.word) {
                if word < pairs && right.wanted.iter().any(|wanted| wanted.word == word + 1) {
                    seen[word] = true;
                }
            }
        }
    }
    seen.iter().filter(|seen| **seen).count() as f32 / pairs as f32
}

fn marks(found: &[Match<'_>], best: &[Option<&QueryStem>]) -> Vec<Mark> {
    // a far reading is not marked where a near one was found
    let near = |wanted: &&QueryStem| {
        best[wanted.word].is_some_and(|best| wanted.closeness >= best.closeness * 0.7)
    };
    let mark = |found: &Match<'_>| {
        found.wanted.iter().find(near).map(|wanted| Mark {
            word: wanted.word,
            start: found.start,
            end: found.end,
        })
    };
    found.iter().filter_map(mark).collect()
}

fn compare_title(kind: DocumentKind, title: &str, plan: &Plan) -> Likeness {
    let title = tokens(title);
    let words = || plan.words.iter().map(|word| word.text.as_str());
    if title.iter().map(|token| token.text.as_str()).eq(words()) {
        match kind {
            DocumentKind::Heading | DocumentKind::Step => Likeness::SameOrder,
            _ => Likeness::Same,
        }
    } else if title
        .iter()
        .map(|token| stem(&token.text))
        .eq(words().map(stem))
    {
        Likeness::SameOrder
    } else {
        Likeness::SameWords
    }
}
