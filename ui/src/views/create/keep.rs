//! What must be kept safe once the facility is there, while its passphrase is still at hand.

use leptos::prelude::*;

use crate::{
    app::Route,
    views::people::authority::sheet,
    widgets::title::title,
    wording::evidence::{authority as words, keep},
};

pub(super) fn keep(passphrase: RwSignal<String>) -> impl IntoView {
    view! {
        <div class="stack wide create">
            <div class="stack tight">
                {title(keep::TITLE)}
                <p class="lead">{keep::LEAD}</p>
            </div>
            <section class="card stack" aria-labelledby="recovery-title">
                <h2 id="recovery-title">{words::RECOVERY}</h2>
                <p class="quiet-text">{words::RECOVERY_WHY}</p>
                {sheet(passphrase, "button primary large")}
            </section>
            <div class="row">
                <a class="button" id="to-today" href=Route::Home.href()>{keep::ON}</a>
            </div>
        </div>
    }
}
