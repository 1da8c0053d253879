//! What the window may ask, by subject. A command unpacks, makes one call and answers; it holds no rule. Each runs off
//! the ui thread, and several may run at once: the live form and the review send a tap only when the one before it was
//! answered, so taps keep their order.

mod authority;
mod demonstration;
mod drafts;
mod history;
mod home;
mod notices;
mod people;
mod people_file;
mod person_file;
mod procedures;
mod records;
mod requirements;
mod roster;
mod sessions;

use contract::{Command, Fault};
use tauri::{Wry, ipc::Invoke};

/// What a command answers.
type Answer<C> = Result<<C as Command>::Reply, Fault>;

/// Every command, by name.
pub(crate) fn handler() -> impl Fn(Invoke<Wry>) -> bool + Send + Sync + 'static {
    tauri::generate_handler![
        home::open_home,
        home::create_facility,
        people::list_people,
        people::add_person,
        authority::appoint_observer,
        authority::save_authority,
        procedures::list_procedures,
        procedures::open_procedure,
        procedures::save_procedure,
        procedures::save_form,
        drafts::retire_procedure,
        drafts::list_drafts,
        drafts::begin_draft,
        drafts::open_draft,
        drafts::keep_draft,
        drafts::drop_draft,
        drafts::publish_draft,
        demonstration::begin_demonstration,
        demonstration::open_demonstration,
        demonstration::tap,
        demonstration::review_demonstration,
        demonstration::stop_review,
        demonstration::seal_demonstration,
        roster::open_roster,
        roster::save_roster,
        roster::save_reminders,
        notices::notify_due,
        history::save_history,
        records::countersign,
        records::check_record,
        records::correct_record,
        authority::revoke_signing,
        home::back_up,
        home::bring_backup,
        home::restore_backup,
        authority::save_recovery_sheet,
        authority::remove_recovery_sheet,
        authority::save_trust_page,
        authority::roll_authority_over,
        authority::make_join_request,
        authority::read_join_request,
        authority::answer_join_request,
        authority::list_observers,
        roster::open_unit_findings,
        requirements::open_requirements,
        requirements::set_requirement,
        requirements::set_facility_rules,
        requirements::ask_again,
        people_file::read_people_file,
        people_file::try_import,
        people_file::confirm_import,
        person_file::open_person,
        person_file::state_about,
        person_file::erase_name,
        person_file::who_may_go_in,
        person_file::check_prerequisites,
        sessions::open_sessions,
        sessions::set_session,
        sessions::give_places,
        sessions::save_invitations,
        history::open_history,
        history::show_record,
    ]
}
