//! What a parsed text is made of, in little room: all pages' trees are held until the last page is
//! composed, and the parser's own types are as large as their rarest case.

use std::ops::Deref;

use pulldown_cmark::{Event, Tag};

/// One of those that say nothing besides what they are, or one in a place of its own.
#[derive(Debug, Clone, PartialEq)]
pub enum Compact<T: 'static> {
    Plain(&'static T),
    Own(Box<T>),
}

impl<T> Deref for Compact<T> {
    type Target = T;

    fn deref(&self) -> &T {
        match self {
            Compact::Plain(plain) => plain,
            Compact::Own(own) => own,
        }
    }
}

static PARAGRAPH: Tag<'static> = Tag::Paragraph;
static ITEM: Tag<'static> = Tag::Item;
static STRONG: Tag<'static> = Tag::Strong;
static EMPHASIS: Tag<'static> = Tag::Emphasis;
static TABLE_HEAD: Tag<'static> = Tag::TableHead;
static TABLE_ROW: Tag<'static> = Tag::TableRow;
static TABLE_CELL: Tag<'static> = Tag::TableCell;

impl From<Tag<'static>> for Compact<Tag<'static>> {
    fn from(tag: Tag<'static>) -> Self {
        Compact::Plain(match tag {
            Tag::Paragraph => &PARAGRAPH,
            Tag::Item => &ITEM,
            Tag::Strong => &STRONG,
            Tag::Emphasis => &EMPHASIS,
            Tag::TableHead => &TABLE_HEAD,
            Tag::TableRow => &TABLE_ROW,
            Tag::TableCell => &TABLE_CELL,
            own => return Compact::Own(Box::new(own)),
        })
    }
}

static SOFT_BREAK: Event<'static> = Event::SoftBreak;
static HARD_BREAK: Event<'static> = Event::HardBreak;

impl From<Event<'static>> for Compact<Event<'static>> {
    fn from(event: Event<'static>) -> Self {
        Compact::Plain(match event {
            Event::SoftBreak => &SOFT_BREAK,
            Event::HardBreak => &HARD_BREAK,
            own => return Compact::Own(Box::new(own)),
        })
    }
}
