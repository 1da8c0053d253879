//! Scoring, from single rules to whole demonstrations.

mod rules;
