//! How tall a long list is, of which most is not in the page. Whole CSS pixels; no page needed.

use std::{
    collections::{BTreeMap, BTreeSet},
    ops::Range,
};

/// How many rows come into the page at once: few, so that a frame in which they do is no longer than the others.
pub(super) const BLOCK: u32 = 10;

/// A part of the list: rows in the page, or as much room as the rows take that are not.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub(super) enum Piece {
    /// The rows of one block.
    Block(u32),
    /// Room for these blocks.
    Gap(Range<u32>),
}

/// The heights of the blocks that were in the page, and a guess of those that were not.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Heights {
    rows: u32,
    /// Height of a row where nothing was measured yet.
    row: u32,
    measured: BTreeMap<u32, u32>,
}

impl Heights {
    /// Of a list that nobody has seen; `row` is how tall a row may be.
    pub(super) fn new(rows: u32, row: u32) -> Heights {
        Heights { rows, row: row.max(1), measured: BTreeMap::new() }
    }

    /// How many rows there are.
    pub(super) fn rows(&self) -> u32 {
        self.rows
    }

    /// How many blocks there are.
    fn blocks(&self) -> u32 {
        self.rows.div_ceil(BLOCK)
    }

    /// The rows of a block, by their numbers from 0.
    pub(super) fn rows_of(&self, block: u32) -> Range<u32> {
        let first = block.saturating_mul(BLOCK);
        first.min(self.rows)..first.saturating_add(BLOCK).min(self.rows)
    }

    /// Height of a row that was not measured.
    pub(super) fn row(&self) -> u32 {
        self.row
    }

    fn of(&self, block: u32) -> u32 {
        let rows = self.rows_of(block);
        let guess = || (rows.end - rows.start).saturating_mul(self.row);
        self.measured.get(&block).copied().unwrap_or_else(guess)
    }

    /// How tall some blocks are together.
    pub(super) fn tall(&self, blocks: Range<u32>) -> u32 {
        blocks.map(|block| self.of(block)).fold(0, u32::saturating_add)
    }

    /// How tall the list is.
    pub(super) fn whole(&self) -> u32 {
        self.tall(0..self.blocks())
    }

    /// Takes in how tall a block is in the page. The first one says how tall a row is that was not measured.
    pub(super) fn measure(&mut self, block: u32, height: u32) {
        if self.measured.is_empty() {
            let rows = self.rows_of(block);
            self.row = (height / (rows.end - rows.start).max(1)).max(1);
        }
        self.measured.insert(block, height);
    }

    /// Forgets what was measured, as where the window has another width now.
    pub(super) fn forget(&mut self) {
        self.measured.clear();
    }

    /// The block at a place of the list; the last one where the list is not that tall.
    pub(super) fn at(&self, place: u32) -> u32 {
        let mut above = 0_u32;
        let ends_below = |block: &u32| {
            above = above.saturating_add(self.of(*block));
            above > place
        };
        (0..self.blocks()).find(ends_below).unwrap_or_else(|| self.blocks().saturating_sub(1))
    }

    /// What belongs into the page where `sight` is what of the list is seen: those blocks, and as much again above and
    /// below, so that what comes into sight is there already; and the block that has the focus with its neighbours,
    /// wherever it is, so that the focus is not lost and the next row is one step of the keyboard away.
    pub(super) fn pieces(&self, sight: &Range<u32>, focused: Option<u32>) -> Vec<Piece> {
        let ahead = sight.end.saturating_sub(sight.start);
        let seen = self.at(sight.start.saturating_sub(ahead))..=self.at(sight.end.saturating_add(ahead));
        let around = focused.map(|block| block.saturating_sub(1)..=block.saturating_add(1));
        let there = seen.chain(around.into_iter().flatten()).filter(|block| *block < self.blocks());
        let mut pieces = Vec::new();
        let mut next = 0;
        for block in there.collect::<BTreeSet<u32>>() {
            if block > next {
                pieces.push(Piece::Gap(next..block));
            }
            pieces.push(Piece::Block(block));
            next = block + 1;
        }
        if next < self.blocks() {
            pieces.push(Piece::Gap(next..self.blocks()));
        }
        pieces
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 10,000 rows of 60 pixels each, in 1,000 blocks of 600.
    fn long() -> Heights {
        Heights::new(10_000, 60)
    }

    #[track_caller]
    fn check(sight: Range<u32>, focused: Option<u32>, expected: &[Piece]) {
        assert_eq!(long().pieces(&sight, focused), expected);
    }

    #[test]
    fn what_is_in_sight_is_there_and_as_much_again_on_both_sides() {
        use Piece::{Block, Gap};
        check(0..500, None, &[Block(0), Block(1), Gap(2..1000)]);
        check(60_000..60_500, None, &[Gap(0..99), Block(99), Block(100), Block(101), Gap(102..1000)]);
        check(599_500..600_000, None, &[Gap(0..998), Block(998), Block(999)]);
        check(900_000..900_500, None, &[Gap(0..999), Block(999)]);
    }

    #[test]
    fn what_has_the_focus_stays_with_its_neighbours() {
        use Piece::{Block, Gap};
        check(
            0..500,
            Some(50),
            &[Block(0), Block(1), Gap(2..49), Block(49), Block(50), Block(51), Gap(52..1000)],
        );
        check(0..500, Some(0), &[Block(0), Block(1), Gap(2..1000)]);
        check(0..500, Some(999), &[Block(0), Block(1), Gap(2..998), Block(998), Block(999)]);
    }

    #[test]
    fn every_row_is_in_exactly_one_piece() {
        for rows in [0, 1, 9, 10, 11, 59, 10_000] {
            let heights = Heights::new(rows, 60);
            for sight in [0..0, 0..700, 300..900, 5_000..5_700, 599_000..601_000] {
                for focused in [None, Some(0), Some(4), Some(999), Some(5_000)] {
                    let covered: Vec<u32> = heights
                        .pieces(&sight, focused)
                        .into_iter()
                        .flat_map(|piece| match piece {
                            Piece::Block(block) => block..block + 1,
                            Piece::Gap(blocks) => blocks,
                        })
                        .flat_map(|block| heights.rows_of(block))
                        .collect();
                    assert_eq!(covered, (0..rows).collect::<Vec<u32>>(), "{rows} {sight:?} {focused:?}");
                }
            }
        }
    }

    #[test]
    fn a_height_that_was_measured_counts_and_the_first_one_tells_of_the_others() {
        let mut heights = long();
        assert_eq!(heights.tall(0..1000), 600_000);
        heights.measure(0, 700);
        assert_eq!((heights.row(), heights.tall(0..1000)), (70, 700_000));
        heights.measure(1, 900);
        assert_eq!((heights.row(), heights.tall(0..3)), (70, 2_300));
        assert_eq!((heights.at(699), heights.at(700), heights.at(1_599), heights.at(1_600)), (0, 1, 1, 2));
        heights.forget();
        assert_eq!(heights.tall(0..2), 1_400);
    }

    #[test]
    fn the_last_block_may_be_short() {
        let heights = Heights::new(13, 60);
        assert_eq!((heights.rows_of(0), heights.rows_of(1), heights.rows_of(2)), (0..10, 10..13, 13..13));
        assert_eq!(heights.tall(0..2), 780);
    }
}
