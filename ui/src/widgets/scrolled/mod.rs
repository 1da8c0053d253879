//! A long list that is scrolled as a whole, of which only what is in sight is in the page and asked for.
//!
//! The rows stand in blocks. A block out of sight is room as tall as the block was, or as blocks like it are; what is
//! near comes into the page before it is seen. The rows are told their numbers, for those who cannot see how many are
//! not there.

mod heights;
mod portions;

use std::{ops::Range, sync::Arc, time::Duration};

use leptos::{html::Div, prelude::*, task::spawn_local};

pub(crate) use self::portions::{Answer, PORTION};
use self::{
    heights::{Heights, Piece},
    portions::{Portions, Rows},
};
use super::loaded::fault_note;
use crate::{page, wording};

/// How long a block has to stay before its rows are asked for: whoever drags the whole list past does not want them.
const STAYS: Duration = Duration::from_millis(60);

/// What the rows stand in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Shape {
    /// A table with so many columns.
    Table(usize),
    /// A list.
    List,
}

/// One long list.
pub(crate) struct Scrolled<T: Send + Sync + 'static> {
    shape: Shape,
    heights: RwSignal<Heights>,
    /// What of the list is seen, in CSS pixels from its first row.
    sight: RwSignal<Range<u32>>,
    /// The block that has the focus.
    focused: RwSignal<Option<u32>>,
    /// Counts up when everything has to be measured again.
    resized: RwSignal<u32>,
    frame: NodeRef<Div>,
    portions: Portions<T>,
}

// Derived, both would ask that a row can be copied.
impl<T: Send + Sync> Clone for Scrolled<T> {
    fn clone(&self) -> Self {
        *self
    }
}

impl<T: Send + Sync> Copy for Scrolled<T> {}

impl<T: Clone + Send + Sync + 'static> Scrolled<T> {
    /// A list of `of` rows. Those that are here already come first; `ask` gets the others, from how many to pass over
    /// and at most how many. `row` is how tall a row may be before one was seen.
    pub(crate) fn new(
        shape: Shape,
        of: u32,
        here: &[T],
        row: u32,
        ask: impl Fn(u32, u32) -> Answer<T> + Send + Sync + 'static,
    ) -> Scrolled<T> {
        let list = Scrolled {
            shape,
            heights: RwSignal::new(Heights::new(of, row)),
            sight: RwSignal::new(0..page::whole_height()),
            focused: RwSignal::new(None),
            resized: RwSignal::new(0),
            frame: NodeRef::new(),
            portions: Portions::new(here, ask),
        };
        let resized = window_event_listener(leptos::ev::resize, move |_| {
            list.heights.update(Heights::forget);
            list.resized.update(|times| *times += 1);
            list.look();
        });
        on_cleanup(move || resized.remove());
        list
    }

    /// The frame in which the list is scrolled, by touch, by wheel, and by keyboard once it has the focus. `label` is
    /// the id of what names it.
    pub(crate) fn frame(self, label: &'static str, inner: impl IntoView) -> impl IntoView {
        Effect::new(move |_| {
            if let Some(frame) = self.frame.get() {
                // The frame of an earlier list may be this one's now, and stands where that one was scrolled to.
                frame.set_scroll_top(0);
                self.look();
            }
        });
        view! {
            <div class="table-frame scrolled" tabindex="0" role="region" aria-labelledby=label node_ref=self.frame
                on:scroll=move |_| self.look()
                on:focusin=move |event| self.focused.set(page::block_of(event.target()))
                on:focusout=move |event| if page::block_of(event.related_target()).is_none() {
                    self.focused.set(None);
                }
            >{inner}</div>
        }
    }

    /// The rows, and the room of those that are not there; `row` draws one, by its number from 0.
    pub(crate) fn rows(self, row: impl Fn(u32, T) -> AnyView + Send + Sync + 'static) -> impl IntoView {
        let row = Arc::new(row);
        let pieces = Memo::new(move |_| {
            let (sight, focused) = (self.sight.get(), self.focused.get());
            self.heights.with(|heights| heights.pieces(&sight, focused))
        });
        view! {
            <For each=move || pieces.get() key=Piece::clone children=move |piece| match piece {
                Piece::Gap(blocks) => self.gap(blocks),
                Piece::Block(block) => self.block(block, Arc::clone(&row)),
            } />
        }
    }

    fn gap(self, blocks: Range<u32>) -> AnyView {
        let tall = move || format!("{}px", self.heights.with(|heights| heights.tall(blocks.clone())));
        match self.shape {
            Shape::Table(columns) => view! {
                <tbody class="gap" data-piece="" aria-hidden="true"><tr><td colspan=columns style:height=tall></td></tr></tbody>
            }
            .into_any(),
            Shape::List => view! { <div class="gap" data-piece="" role="none" style:height=tall></div> }.into_any(),
        }
    }

    fn block(self, block: u32, row: Arc<impl Fn(u32, T) -> AnyView + Send + Sync + 'static>) -> AnyView {
        let rows = self.heights.with_untracked(|heights| heights.rows_of(block));
        let (portion, within) = Portions::<T>::place(&rows);
        let slot = self.portions.slot(portion);
        self.ask_if_it_stays(portion);
        self.measure_once_here(block, slot.clone());
        let busy = {
            let slot = slot.clone();
            move || slot.with(|rows| !matches!(rows, Rows::Here(_))).then_some("true")
        };
        let inner = move || match slot.get() {
            Rows::Unasked | Rows::Asked => self.awaited(rows.clone()),
            Rows::Here(all) => {
                let here = all.get(within.clone()).unwrap_or_default().iter().cloned();
                rows.clone().zip(here).map(|(number, one)| row(number, one)).collect_view().into_any()
            }
            Rows::Failed(fault) => {
                self.alone(fault_note(fault, Callback::new(move |()| self.portions.ask(portion))).into_any())
            }
        };
        match self.shape {
            Shape::Table(_) => {
                view! { <tbody data-piece="" data-block=block aria-busy=busy>{inner}</tbody> }.into_any()
            }
            Shape::List => {
                view! { <div role="none" data-piece="" data-block=block aria-busy=busy>{inner}</div> }
                    .into_any()
            }
        }
    }

    /// Rows that are on their way, each as tall as one is.
    fn awaited(self, rows: Range<u32>) -> AnyView {
        let row = self.heights.with_untracked(Heights::row);
        let each = rows.map(|_number| {
            let tall = format!("{row}px");
            match self.shape {
                Shape::Table(columns) => {
                    view! { <tr><td class="quiet-text" colspan=columns style:height=tall>{wording::WAITING}</td></tr> }
                        .into_any()
                }
                Shape::List => {
                    view! { <div class="line quiet-text" role="listitem" style:height=tall>{wording::WAITING}</div> }
                        .into_any()
                }
            }
        });
        each.collect_view().into_any()
    }

    /// Something in the place of a block's rows.
    fn alone(self, what: AnyView) -> AnyView {
        match self.shape {
            Shape::Table(columns) => view! { <tr><td colspan=columns>{what}</td></tr> }.into_any(),
            Shape::List => view! { <div role="listitem">{what}</div> }.into_any(),
        }
    }

    /// Asks for a portion and, so that nobody who goes on scrolling has to wait, for those beside it.
    fn ask_if_it_stays(self, portion: u32) {
        let rows = self.heights.with_untracked(Heights::rows);
        let ask = move || self.portions.ask_around(portion, rows);
        let later = set_timeout_with_handle(ask, STAYS);
        on_cleanup(move || {
            if let Ok(later) = later {
                later.clear();
            }
        });
    }

    /// What was guessed of a block's height is put right once its rows are in the page.
    fn measure_once_here(self, block: u32, slot: ArcRwSignal<Rows<T>>) {
        Effect::new(move |_| {
            self.resized.track();
            let here = slot.with(|rows| matches!(rows, Rows::Here(_)));
            let frame = self.frame.get_untracked().filter(|_frame| here);
            if let Some(height) = frame.and_then(|frame| page::block_height(&frame, block)) {
                self.measured(block, height);
            }
        });
    }

    /// Takes in a height. What is in sight is not moved back to where it was: that would end a scrolling that is still
    /// on its way, and rows are alike. Only whoever went to the end stays there.
    fn measured(self, block: u32, height: u32) {
        let sight = self.sight.get_untracked();
        let at_end = self.heights.with_untracked(|heights| sight.start > 0 && sight.end >= heights.whole());
        self.heights.update(|heights| heights.measure(block, height));
        if at_end {
            spawn_local(async move {
                // Only then the room above has its new height.
                leptos::task::tick().await;
                if let Some(frame) = self.frame.try_get_untracked().flatten() {
                    page::scroll_to_end(&frame);
                }
            });
        }
    }

    /// Looks what of the list is in sight.
    fn look(self) {
        if let Some(frame) = self.frame.get_untracked() {
            self.sight.set(page::sight(&frame));
        }
    }
}
