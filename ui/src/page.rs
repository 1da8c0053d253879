//! What only the page itself can do: mount, focus, the address, random bytes, a clock that never goes
//! back. Nothing else in this crate touches the browser's own objects.

use std::ops::Range;

use leptos::prelude::*;
use wasm_bindgen::JsCast;
use web_sys::HtmlElement;

/// Puts the application into its place in index.html.
pub(crate) fn mount<V: IntoView + 'static>(app: fn() -> V) {
    let place = document().get_element_by_id("app").and_then(|place| place.dyn_into::<HtmlElement>().ok());
    if let Some(place) = place {
        mount_to(place, app).forget();
    }
}

/// The part of the address after `#`.
pub(crate) fn hash() -> String {
    window().location().hash().unwrap_or_default()
}

/// Goes to another part of the address, with a way back.
pub(crate) fn go(hash: &str) {
    drop(window().location().set_hash(hash));
}

/// The file that was chosen in a file field, where one was.
pub(crate) fn chosen_file(event: &web_sys::Event) -> Option<web_sys::File> {
    let field = event.target()?.dyn_into::<web_sys::HtmlInputElement>().ok()?;
    field.files()?.get(0)
}

/// Empties a file field; it cannot be given another value.
pub(crate) fn clear(id: &str) {
    let field =
        document().get_element_by_id(id).and_then(|field| field.dyn_into::<web_sys::HtmlInputElement>().ok());
    if let Some(field) = field {
        field.set_value("");
    }
}

/// The file that was dropped, where one was.
pub(crate) fn dropped_file(event: &web_sys::DragEvent) -> Option<web_sys::File> {
    event.data_transfer()?.files()?.get(0)
}

/// The bytes of a buffer that the browser gave.
pub(crate) fn bytes_of(buffer: &wasm_bindgen::JsValue) -> Vec<u8> {
    js_sys::Uint8Array::new(buffer).to_vec()
}

/// The text of a file; bytes that are no UTF-8 become a mark that no procedure file has.
pub(crate) async fn text_of(file: &web_sys::File) -> Option<String> {
    wasm_bindgen_futures::JsFuture::from(file.text()).await.ok()?.as_string()
}

/// Replaces the part of the address after `#` without adding a step to the history.
pub(crate) fn replace_hash(hash: &str) {
    drop(window().location().replace(hash));
}

/// Milliseconds since the page began, by a clock that nobody can set back.
pub(crate) fn now_ms() -> i64 {
    #[expect(
        clippy::cast_possible_truncation,
        reason = "milliseconds since the page began stay far below 2^53"
    )]
    window().performance().map_or(0, |clock| clock.now() as i64)
}

/// Sixteen random bytes as 32 hexadecimal digits: names a tap or a demonstration.
pub(crate) fn random_id() -> String {
    let mut bytes = [0_u8; 16];
    if let Ok(crypto) = window().crypto() {
        drop(crypto.get_random_values_with_u8_array(&mut bytes));
    }
    format!("{:032x}", u128::from_be_bytes(bytes))
}

/// A short buzz where the device can.
pub(crate) fn buzz() {
    let navigator: &wasm_bindgen::JsValue = &window().navigator();
    if js_sys::Reflect::has(navigator, &"vibrate".into()).unwrap_or(false) {
        window().navigator().vibrate_with_duration(15);
    }
}

/// Moves the keyboard focus to an element, where it is there.
pub(crate) fn focus(id: &str) {
    let found = document().get_element_by_id(id).and_then(|found| found.dyn_into::<HtmlElement>().ok());
    if let Some(element) = found {
        drop(element.focus());
    }
}

/// What the device keeps under a name, such as which hand holds it; nothing of the ledger is kept here.
pub(crate) fn kept(name: &str) -> Option<String> {
    window().local_storage().ok().flatten()?.get_item(name).ok().flatten()
}

/// Has the device keep something; where it cannot, it is forgotten with the window.
pub(crate) fn keep(name: &str, value: &str) {
    if let Some(storage) = window().local_storage().ok().flatten() {
        drop(storage.set_item(name, value));
    }
}

/// Sets an attribute of the whole page, for its style sheet.
pub(crate) fn set_on_page(name: &str, value: &str) {
    if let Some(page) = document().document_element() {
        drop(page.set_attribute(name, value));
    }
}

/// Height of the window in CSS pixels.
pub(crate) fn height() -> f64 {
    window().inner_height().ok().and_then(|height| height.as_f64()).unwrap_or(f64::MAX)
}

/// Height of the window in whole CSS pixels.
pub(crate) fn whole_height() -> u32 {
    let height = document().document_element().map_or(0, |page| page.client_height());
    u32::try_from(height).unwrap_or_default()
}

/// What is seen of the pieces of a long list in its frame, in CSS pixels from the first piece.
pub(crate) fn sight(frame: &HtmlElement) -> Range<u32> {
    let first = frame.query_selector("[data-piece]").ok().flatten();
    let above =
        first.and_then(|piece| piece.dyn_into::<HtmlElement>().ok()).map_or(0, |piece| piece.offset_top());
    let from = frame.scroll_top() - above;
    let whole = |pixels: i32| u32::try_from(pixels).unwrap_or_default();
    whole(from)..whole(from + frame.client_height())
}

/// Height of a block of a long list in its frame; `None` where it is not in the page.
pub(crate) fn block_height(frame: &HtmlElement, block: u32) -> Option<u32> {
    let found = frame.query_selector(&format!("[data-block=\"{block}\"]")).ok()??;
    u32::try_from(found.dyn_into::<HtmlElement>().ok()?.offset_height()).ok().filter(|height| *height > 0)
}

/// The block of a long list that something is in.
pub(crate) fn block_of(target: Option<web_sys::EventTarget>) -> Option<u32> {
    let element = target?.dyn_into::<web_sys::Element>().ok()?;
    element.closest("[data-block]").ok()??.get_attribute("data-block")?.parse().ok()
}

/// Shows the end of what is in a frame.
pub(crate) fn scroll_to_end(frame: &HtmlElement) {
    frame.set_scroll_top(frame.scroll_height());
}

/// Width of the window in CSS pixels.
pub(crate) fn width() -> f64 {
    window().inner_width().ok().and_then(|width| width.as_f64()).unwrap_or(f64::MAX)
}

/// Has the page laid out from nothing. Where a window only got narrower, `WebKit` keeps the heights of the rows of a
/// grid within a grid, and cuts off the words that need another line.
pub(crate) fn lay_out_anew() {
    let Some(page) = document().document_element() else { return };
    drop(page.set_attribute("data-anew", ""));
    // Asking for a size is what has it laid out with the attribute; then it goes, and the next frame is right.
    let _laid_out = page.client_height();
    drop(page.remove_attribute("data-anew"));
}

/// How wide a drawing in a card of the page may be without being made smaller, in CSS pixels.
#[expect(clippy::float_arithmetic, reason = "a width on the screen; nothing is decided by it")]
pub(crate) fn drawing_width() -> f64 {
    /// The margins of the page and of a card, at their widest.
    const AROUND: f64 = 116.0;
    let content = document().query_selector("main").ok().flatten();
    (content.map_or_else(width, |content| f64::from(content.client_width())) - AROUND).clamp(320.0, 980.0)
}

/// Whether the focus is where text is written.
pub(crate) fn writes_text() -> bool {
    document().active_element().is_some_and(|at| matches!(at.tag_name().as_str(), "INPUT" | "TEXTAREA"))
}

/// Whether somebody can see the page now.
pub(crate) fn is_shown() -> bool {
    !document().hidden()
}

/// Names the page, for the window's title and for screen readers.
pub(crate) fn set_title(title: &str) {
    document().set_title(title);
}

/// Scrolls back to the top, as a new page would.
pub(crate) fn to_top() {
    window().scroll_to_with_x_and_y(0.0, 0.0);
}
