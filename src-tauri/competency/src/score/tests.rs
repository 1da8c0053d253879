//! Scoring, from single rules to whole demonstrations.

mod optimum;
mod rules;
mod table;
