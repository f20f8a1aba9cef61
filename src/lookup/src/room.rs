//! Room for a judgement: what words find in each document.

/// What a word, or part of one, finds in a document.
#[derive(Clone, Copy, Default)]
pub(crate) struct WordMatch {
    pub(crate) value: f32,
    pub(crate) title: f32,
    /// The closeness of the reading that found it; 0 where nothing did.
    pub(crate) near: f32,
}

/// What one word, or part of one, finds in each document.
#[derive(Default)]
pub(crate) struct WordMatches {
    pub(crate) cells: Vec<WordMatch>,
    pub(crate) touched: Vec<usize>,
}

impl WordMatches {
    /// Empty, with a cell for each document.
    pub(crate) fn clear(&mut self, documents: usize) {
        for &document in &self.touched {
            self.cells[document] = WordMatch::default();
        }
        self.touched.clear();
        self.cells.resize(documents, WordMatch::default());
    }

    /// The cell of a document, noted as used; none when there is no such document.
    fn touch(&mut self, document: usize) -> Option<&mut WordMatch> {
        let cell = self.cells.get_mut(document)?;
        if cell.near == 0.0 {
            self.touched.push(document);
        }
        Some(cell)
    }

    pub(crate) fn add(&mut self, document: usize, value: f32, title: f32, near: f32) {
        if let Some(cell) = self.touch(document) {
            cell.value += value;
            cell.title = cell.title.max(title);
            cell.near = near;
        }
    }

    /// What people say for a document counts as its title does.
    pub(crate) fn add_said(&mut self, document: usize, value: f32, title: f32, near: f32) {
        if let Some(cell) = self.touch(document) {
            cell.value = cell.value.max(value);
            cell.title = cell.title.max(title);
            cell.near = cell.near.max(near);
        }
    }

    /// Keeps what stands in titles.
    pub(crate) fn keep_titled(&mut self) {
        for &document in &self.touched {
            let cell = &mut self.cells[document];
            if cell.title == 0.0 {
                cell.value = 0.0;
                cell.near = 0.0;
            }
        }
    }

    /// Keeps of every document the better of two readings.
    pub(crate) fn keep_best(&mut self, other: &WordMatches, closeness: f32) {
        for &document in &other.touched {
            let theirs = other.cells[document];
            if theirs.near > 0.0
                && let Some(mine) = self.touch(document)
            {
                mine.near = mine.near.max(theirs.near * closeness);
                mine.value = mine.value.max(theirs.value * closeness);
                mine.title = mine.title.max(theirs.title * closeness);
            }
        }
    }

    /// Keeps what both hold, by the weaker.
    pub(crate) fn keep_common(&mut self, other: &WordMatches) {
        for &document in &self.touched {
            let (mine, theirs) = (&mut self.cells[document], other.cells[document]);
            mine.near = mine.near.min(theirs.near);
            mine.value = mine.value.min(theirs.value);
            mine.title = mine.title.min(theirs.title);
        }
    }
}

/// What all words together find in a document.
#[derive(Clone, Copy, Default)]
pub(crate) struct Sum {
    pub(crate) total: f32,
    pub(crate) cover: f32,
    /// The same, a rare word counting more.
    pub(crate) worth: f32,
    pub(crate) titles: f32,
    pub(crate) exact_titles: u16,
    pub(crate) numbers: u16,
    pub(crate) codes: u16,
    /// The words of the query that it holds nearly, and those that it holds by a far reading
    /// alone: a bit each.
    pub(crate) near: u16,
    pub(crate) far: u16,
}

impl Sum {
    pub(crate) fn found(&self) -> bool {
        self.cover > 0.0
    }
}

/// Room for a judgement, kept from one query to the next: to make it and empty it anew would
/// cost as much as many a query.
#[derive(Default)]
pub(crate) struct Room {
    pub(crate) sums: Vec<Sum>,
    pub(crate) touched: Vec<usize>,
    pub(crate) best: WordMatches,
    pub(crate) part: WordMatches,
    pub(crate) other: WordMatches,
}
