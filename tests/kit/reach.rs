//! What a finger and an eye meet on the laid-out page: sizes, gaps, contrast, and whether anything moved.

use serde_json::Value;

use crate::window::Window;

/// Gives the targets that are shown: for each its name and where it lies in CSS pixels. A part that scrolled out
/// of its frame is not in reach until it is brought there, so it is measured, and its gaps are those of the page.
const TARGETS: &str = r"
// What lies under the wipe lock is in nobody's reach.
const within = document.querySelector('.door-lock') ? '.door-lock button' : '.door button, .door a[href], .door textarea';
const shown = [...document.querySelectorAll(within)].filter(it => {
  const box = it.getBoundingClientRect();
  return box.width > 0 && box.height > 0 && it.checkVisibility({ checkVisibilityCSS: true });
});
const name = it => it.id || it.innerText.trim().slice(0, 30) || it.tagName;
const frames = it => {
  const all = [];
  for (let up = it.parentElement; up; up = up.parentElement)
    if (/(auto|scroll)/.test(getComputedStyle(up).overflowY)) all.push(up);
  return all;
};";

/// The sizes that a gloved finger needs; see facts on standing use: 20 mm and 3 mm at 96 px to the inch.
const MEASURED: &str = r"
const wrong = [];
const boxes = shown.map(it => ({ it, box: it.getBoundingClientRect(), frames: frames(it) }));
for (const { it, box } of boxes)
  if (box.width < 75.99 || box.height < 75.99)
    wrong.push(`${name(it)} is ${box.width.toFixed(1)} x ${box.height.toFixed(1)}`);
for (let a = 0; a < boxes.length; a++) for (let b = a + 1; b < boxes.length; b++) {
  const [one, two] = [boxes[a], boxes[b]];
  // What scrolls in different frames meets only at the frames, which are measured below.
  if (one.frames[0] !== two.frames[0]) continue;
  const across = Math.max(two.box.left - one.box.right, one.box.left - two.box.right);
  const down = Math.max(two.box.top - one.box.bottom, one.box.top - two.box.bottom);
  const gap = Math.max(across, down);
  if (gap < 11.99) wrong.push(`${name(one.it)} and ${name(two.it)} are ${gap.toFixed(1)} apart`);
}
for (const { it, box, frames } of boxes) {
  // Visible part only: what lies outside of its frame cannot be touched there.
  let [top, bottom] = [box.top, box.bottom];
  for (const frame of frames) {
    const rect = frame.getBoundingClientRect();
    [top, bottom] = [Math.max(top, rect.top), Math.min(bottom, rect.bottom)];
  }
  if (bottom <= top) continue;
  for (const other of boxes) {
    if (other.it === it || other.frames[0] === frames[0] || frames.includes(other.it)) continue;
    let [t, b] = [other.box.top, other.box.bottom];
    for (const frame of other.frames) {
      const rect = frame.getBoundingClientRect();
      [t, b] = [Math.max(t, rect.top), Math.min(b, rect.bottom)];
    }
    if (b <= t) continue;
    const across = Math.max(other.box.left - box.right, box.left - other.box.right);
    const gap = Math.max(across, Math.max(t - bottom, top - b));
    if (gap < 11.99) wrong.push(`${name(it)} and ${name(other.it)} are ${gap.toFixed(1)} apart, in different frames`);
  }
}
if (document.documentElement.scrollWidth > innerWidth) wrong.push(`the page is ${document.documentElement.scrollWidth} wide`);
return wrong;";

/// What is written on a target and does not fit on it (WCAG 2.2, 1.4.4, asks it of larger text).
const CUT: &str = r"
const cut = [];
for (const it of shown) {
  const box = it.getBoundingClientRect();
  for (const part of [it, ...it.querySelectorAll('*')]) {
    if (part.closest('svg')) continue;
    const rect = part.getBoundingClientRect();
    const over = part.scrollWidth > part.clientWidth + 1 && part.clientWidth > 0
      || rect.bottom > box.bottom + 0.5 || rect.right > box.right + 0.5;
    if (over) { cut.push(`${name(it)}: ${part.innerText} is cut off`); break; }
  }
}
// The banner may scroll, but never hides what it says.
const said = document.querySelector('.banner-text');
if (said && said.clientHeight < Math.min(said.scrollHeight, 44)) cut.push('the banner hides what it says');
return cut;";

/// Contrast of every text that is shown with what is behind it, by the formula of WCAG 2.2 (relative luminance,
/// contrast ratio). Backgrounds are plain colours here; the first ancestor that has one counts.
const CONTRAST: &str = r"
const parse = text => text.match(/[\d.]+/g).map(Number);
const channel = value => { value /= 255; return value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4; };
const luminance = ([r, g, b]) => 0.2126 * channel(r) + 0.7152 * channel(g) + 0.0722 * channel(b);
const behind = it => {
  for (let up = it; up; up = up.parentElement) {
    const colour = parse(getComputedStyle(up).backgroundColor);
    if (colour.length === 3 || colour[3] === 1) return colour;
  }
  return [255, 255, 255];
};
const wrong = new Set();
let looked = 0;
const texts = document.createTreeWalker(document.querySelector('main'), NodeFilter.SHOW_TEXT);
for (let text = texts.nextNode(); text; text = texts.nextNode()) {
  const it = text.parentElement;
  if (!text.data.trim() || it.closest('svg, .unseen') || !it.checkVisibility({ checkVisibilityCSS: true })) continue;
  const style = getComputedStyle(it);
  const [one, two] = [luminance(parse(style.color)), luminance(behind(it))];
  const ratio = (Math.max(one, two) + 0.05) / (Math.min(one, two) + 0.05);
  looked++;
  if (ratio < arguments[0]) wrong.add(`${text.data.trim().slice(0, 40)}: ${ratio.toFixed(2)}`);
}
return looked < 2 ? ['the page has hardly any text'] : [...wrong];";

impl Window {
    /// What is too small or too near to its neighbour for a gloved finger: under 76 CSS pixels or 12 apart.
    ///
    /// # Panics
    ///
    /// Where the page cannot be asked.
    pub async fn out_of_reach(&self) -> Vec<String> {
        listed(self.ask(&format!("{TARGETS}{MEASURED}")).await)
    }

    /// Targets on which words are cut off.
    ///
    /// # Panics
    ///
    /// Where the page cannot be asked.
    pub async fn cut_off(&self) -> Vec<String> {
        listed(self.ask(&format!("{TARGETS}{CUT}")).await)
    }

    /// Texts that stand out less than `least` to 1 from what is behind them.
    ///
    /// # Panics
    ///
    /// Where the page cannot be asked.
    pub async fn too_faint(&self, least: f64) -> Vec<String> {
        let script = CONTRAST.replace("arguments[0]", &least.to_string());
        listed(self.ask(&script).await)
    }

    /// Where every act and every button around it lies, by its id.
    ///
    /// # Panics
    ///
    /// Where the page cannot be asked.
    pub async fn places(&self) -> Value {
        self.ask(&format!(
            "{TARGETS} return Object.fromEntries(shown.filter(it => it.id).map(it => {{ \
               const box = it.getBoundingClientRect(); \
               return [it.id, [box.left, box.top, box.width, box.height].map(Math.round)]; }}))"
        ))
        .await
    }
}

fn listed(told: Value) -> Vec<String> {
    serde_json::from_value(told).expect("a list of texts")
}
