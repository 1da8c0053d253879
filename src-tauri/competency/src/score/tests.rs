//! Scoring, from single rules to whole demonstrations.

mod metamorphic;
mod optimum;
mod rules;
mod sentences;
mod shortest_path;
mod table;
