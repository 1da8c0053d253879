//! How the sections are laid on pages: every act keeps its place, and as few pages as possible.

use competency::{live::StepState, model::Section};

use super::form::Form;

/// Acts beside one another on a page, and on the shelf that is on every page; live.css lays them so.
const ACROSS: usize = 4;
const SHELF_ACROSS: usize = 5;

/// Rows of acts for which a tablet has room above a shelf of one row, of two, of more: on a single page,
/// and where the row of pages takes room too. Measured in the window at 1180 x 820.
const ROOM: [(usize, usize); 3] = [(4, 3), (3, 2), (2, 1)];

/// The titled sections of each page, by index. The section without a title is on every page, on a shelf
/// that holds `shelf` things.
pub(crate) fn pages(sections: &[Section], shelf: usize) -> Vec<Vec<usize>> {
    let titled: Vec<(usize, usize)> = sections
        .iter()
        .enumerate()
        .filter(|(_, section)| section.title.is_some() && !section.tiles.is_empty())
        .map(|(index, section)| (index, section.tiles.len()))
        .collect();
    let [one, two, more] = ROOM;
    let (alone, paged) = match shelf.div_ceil(SHELF_ACROSS) {
        0 | 1 => one,
        2 => two,
        _ => more,
    };
    let whole = filled(&titled, alone);
    if whole.len() <= 1 { whole } else { filled(&titled, paged) }
}

/// Fills pages of so many rows, as the style sheet will: a section stands beside the one before it where
/// both fit across, and is as many rows high as it needs. One that fits nowhere has a page of its own.
fn filled(sections: &[(usize, usize)], rows: usize) -> Vec<Vec<usize>> {
    let mut pages: Vec<Vec<usize>> = Vec::new();
    let (mut above, mut across, mut high) = (0, 0, 0);
    for &(index, acts) in sections {
        let (wide, needs) = (acts.min(ACROSS), acts.div_ceil(ACROSS));
        let beside = across + wide <= ACROSS && above + high.max(needs) <= rows;
        let below = above + high + needs <= rows;
        match pages.last_mut() {
            Some(page) if beside => {
                page.push(index);
                across += wide;
                high = high.max(needs);
            }
            Some(page) if below => {
                page.push(index);
                (above, across, high) = (above + high, wide, needs);
            }
            Some(_) | None => {
                pages.push(vec![index]);
                (above, across, high) = (0, wide, needs);
            }
        }
    }
    pages
}

/// The page to show: the one shown, as long as something on it may come now, else the one of the next
/// step. So the form moves on by itself only from section to section.
pub(crate) fn moved_on(form: &Form, pages: &[Vec<usize>], shown: usize) -> usize {
    let sections = form.model().sections();
    let on_page = |page: &Vec<usize>, step: &str| {
        page.iter()
            .filter_map(|index| sections.get(*index))
            .any(|section| section.steps.iter().any(|id| id == step))
    };
    let may_come = |page: &Vec<usize>| {
        form.steps().any(|(step, state)| state == StepState::MayCome && on_page(page, &step.id))
    };
    if pages.get(shown).is_some_and(may_come) {
        return shown;
    }
    let next = form.next_step().and_then(|step| pages.iter().position(|page| on_page(page, &step.id)));
    next.unwrap_or(shown)
}

#[cfg(test)]
mod tests {
    use competency::model::{Tile, TileKind};

    use super::*;

    fn section(title: Option<&str>, acts: usize) -> Section {
        let tile = |n: usize| Tile { act: format!("{n}"), label: format!("{n}"), kind: TileKind::Step };
        Section { title: title.map(str::to_owned), steps: Vec::new(), tiles: (0..acts).map(tile).collect() }
    }

    fn check(acts: &[usize], shelf: usize, expected: &[&[usize]]) {
        let sections: Vec<Section> = acts.iter().map(|acts| section(Some("s"), *acts)).collect();
        assert_eq!(pages(&sections, shelf), expected, "{acts:?} above a shelf of {shelf}");
    }

    #[test]
    fn sections_share_rows_and_pages_as_long_as_they_fit() {
        check(&[], 3, &[]);
        check(&[1, 2, 1, 3], 4, &[&[0, 1, 2, 3]]);
        check(&[4, 4, 4, 4], 4, &[&[0, 1, 2, 3]]);
        check(&[4, 4, 4, 4, 1], 4, &[&[0, 1, 2], &[3, 4]]);
        check(&[2, 3, 2, 5, 1, 2, 4], 8, &[&[0, 1], &[2], &[3], &[4, 5, 6]]);
        check(&[1, 1], 11, &[&[0, 1]]);
    }

    #[test]
    fn a_section_that_is_larger_than_a_page_has_one_of_its_own() {
        check(&[1, 20, 1], 0, &[&[0], &[1], &[2]]);
    }

    #[test]
    fn what_is_on_every_page_and_what_is_empty_takes_no_place() {
        let sections = [section(Some("a"), 0), section(Some("b"), 1), section(None, 4)];
        assert_eq!(pages(&sections, 4), [vec![1]]);
    }
}
