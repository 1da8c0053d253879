//! How the sections are laid on pages: every act keeps its place, and as few pages as possible.

use competency::{live::StepState, model::Section};

use super::form::Form;

/// Most acts on a page where there is more than one: three rows of four, with room for headings.
const MOST: usize = 12;

/// The titled sections of each page, by index. The section without a title is on every page.
pub(crate) fn pages(sections: &[Section]) -> Vec<Vec<usize>> {
    let mut pages: Vec<Vec<usize>> = Vec::new();
    let mut acts = 0;
    for (index, section) in sections.iter().enumerate() {
        if section.title.is_none() || section.tiles.is_empty() {
            continue;
        }
        let count = section.tiles.len();
        match pages.last_mut() {
            Some(page) if acts + count <= MOST => {
                page.push(index);
                acts += count;
            }
            Some(_) | None => {
                pages.push(vec![index]);
                acts = count;
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

    #[test]
    fn sections_share_a_page_as_long_as_they_fit() {
        let sections = [section(Some("a"), 5), section(Some("b"), 7), section(Some("c"), 1)];
        assert_eq!(pages(&sections), [vec![0, 1], vec![2]]);
    }

    #[test]
    fn a_section_that_is_larger_than_a_page_has_one_of_its_own() {
        assert_eq!(pages(&[section(Some("a"), 2), section(Some("b"), 20)]), [vec![0], vec![1]]);
    }

    #[test]
    fn what_is_on_every_page_and_what_is_empty_takes_no_place() {
        let sections = [section(Some("a"), 0), section(Some("b"), 1), section(None, 4)];
        assert_eq!(pages(&sections), [vec![1]]);
    }
}
