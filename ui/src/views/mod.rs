//! One folder a view: its parts, its style sheet beside it.

pub(crate) mod create;
pub(crate) mod go_in;
pub(crate) mod history;
pub(crate) mod home;
pub(crate) mod live;
pub(crate) mod people;
pub(crate) mod person;
pub(crate) mod procedures;
pub(crate) mod requirements;
pub(crate) mod review;
pub(crate) mod roster;
pub(crate) mod sessions;
pub(crate) mod settle;
pub(crate) mod sign;
pub(crate) mod start;
pub(crate) mod workbench;
