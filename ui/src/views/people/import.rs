//! People from a personnel system's file: read, tried, and changed only once that was shown.

use chrono::NaiveDate;
use contract::{
    ConfirmImport, ImportChange, ImportTold, PeopleColumns, PeopleTable, ReadPeopleFile, TryImport,
};
use leptos::{prelude::*, task::spawn_local};

use crate::{
    page,
    widgets::{
        announcer::Announcer,
        doing::doing,
        files::read_file,
        select::{select, tick},
        title::title,
    },
    wording::{self, manager::import as words},
};

/// A file of ten thousand people has about a megabyte; beyond this it is not even read.
const LARGEST_FILE: u64 = 16 << 20;
/// Most changes shown at once.
const MOST: usize = 200;

#[component]
pub(crate) fn Import() -> impl IntoView {
    let bytes = RwSignal::new(Vec::<u8>::new());
    let refused = RwSignal::new(false);
    let encoding = RwSignal::new(String::new());
    let read = doing::<ReadPeopleFile>(|_| ());
    // Text that reads wrongly is read anew in another encoding.
    Effect::new(move |last: Option<String>| {
        let chosen = encoding.get();
        if last.is_some_and(|last| last != chosen) && bytes.with_untracked(|bytes| !bytes.is_empty()) {
            let encoding = (!chosen.is_empty()).then(|| chosen.clone());
            read.go(ReadPeopleFile { bytes: bytes.get_untracked(), encoding });
        }
        chosen
    });
    let bring = move |event: leptos::ev::Event| {
        let Some(file) = page::chosen_file(&event) else { return };
        spawn_local(async move {
            let read_bytes = read_file(&file, LARGEST_FILE).await;
            refused.set(read_bytes.is_err());
            if let Ok(read_bytes) = read_bytes {
                bytes.set(read_bytes.clone());
                read.go(ReadPeopleFile { bytes: read_bytes, encoding: None });
            }
        });
    };
    view! {
        <div class="stack wide">
            {title(words::TITLE)}
            <p class="lead">{words::LEAD}</p>
            <div class="field">
                <label for="people-file">{words::FILE}</label>
                <input id="people-file" type="file" accept=".csv,.txt,text/csv,text/plain" on:change=bring
                    aria-describedby="people-file-hint" />
                <p class="hint" id="people-file-hint">{words::FILE_HINT}</p>
            </div>
            {select("people-encoding", words::ENCODING, encodings(), encoding)}
            {move || refused.get().then(|| view! { <p class="note danger" role="alert">{words::SMALL}</p> })}
            {read.told()}
            {move || read.answer().map(|table| columns(table, bytes))}
        </div>
    }
}

/// Those that are met most; the names are those of the Encoding Standard.
fn encodings() -> Vec<(String, String)> {
    let found = (String::new(), words::FOUND.to_owned());
    let names = [
        "utf-8",
        "utf-16le",
        "windows-1252",
        "windows-1250",
        "windows-1251",
        "iso-8859-2",
        "shift_jis",
        "gb18030",
    ];
    std::iter::once(found).chain(names.map(|name| (name.to_owned(), name.to_uppercase()))).collect()
}

/// Which columns are chosen, as the values of lists.
#[derive(Debug, Clone, Copy)]
struct Chosen {
    number: RwSignal<String>,
    name: RwSignal<String>,
    last_name: RwSignal<String>,
    unit: RwSignal<String>,
    role: RwSignal<String>,
    since: RwSignal<String>,
    last_day: RwSignal<String>,
    dates: RwSignal<String>,
    everybody: RwSignal<bool>,
}

impl Chosen {
    fn guessed(guess: &PeopleColumns) -> Chosen {
        let at =
            |place: Option<usize>| RwSignal::new(place.map(|place| place.to_string()).unwrap_or_default());
        Chosen {
            number: at(guess.number),
            name: at(guess.name.first().copied()),
            last_name: at(guess.name.get(1).copied()),
            unit: at(guess.unit),
            role: at(guess.role),
            since: at(guess.since),
            last_day: at(guess.last_day),
            dates: RwSignal::new(String::new()),
            everybody: RwSignal::new(false),
        }
    }

    fn columns(self) -> PeopleColumns {
        let at = |value: RwSignal<String>| value.with_untracked(|text| text.parse().ok());
        PeopleColumns {
            number: at(self.number),
            name: [self.name, self.last_name].into_iter().filter_map(at).collect(),
            unit: at(self.unit),
            role: at(self.role),
            since: at(self.since),
            last_day: at(self.last_day),
            day_first: match self.dates.get_untracked().as_str() {
                "day" => Some(true),
                "month" => Some(false),
                _ => None,
            },
        }
    }
}

fn columns(table: PeopleTable, bytes: RwSignal<Vec<u8>>) -> impl IntoView {
    let chosen = Chosen::guessed(&table.guess);
    let announcer = Announcer::here();
    let trying = doing::<TryImport>(move |told: ImportTold| {
        announcer.say(words::summary(
            told.changes.len(),
            told.unchanged,
            told.left_before.len(),
            told.bad.len(),
        ));
    });
    let encoding = table.encoding.clone();
    let asked = move || TryImport {
        file: ReadPeopleFile { bytes: bytes.get_untracked(), encoding: Some(encoding.clone()) },
        columns: chosen.columns(),
        everybody: chosen.everybody.get_untracked(),
    };
    let go = Callback::new(move |()| {
        trying.go(asked());
    });
    let header: Vec<(String, String)> =
        table.header.iter().enumerate().map(|(at, name)| (at.to_string(), name.clone())).collect();
    let optional: Vec<(String, String)> =
        std::iter::once((String::new(), words::NONE.to_owned())).chain(header).collect();
    let column = |id: &'static str, label: &'static str, value| select(id, label, optional.clone(), value);
    let dates = [("", words::FILE_TELLS), ("day", words::DAY_FIRST), ("month", words::MONTH_FIRST)];
    let dates = dates.map(|(value, name)| (value.to_owned(), name.to_owned())).into();
    view! {
        <p class="quiet-text" role="status">{words::read(table.rows, &table.encoding, &table.separator)}</p>
        {first_rows(&table)}
        <form class="card stack" novalidate aria-labelledby="columns-title"
            on:submit=move |event| { event.prevent_default(); go.run(()); }>
            <h2 id="columns-title">{words::COLUMNS}</h2>
            <div class="columns">
                {column("column-number", words::NUMBER, chosen.number)}
                {column("column-name", words::NAME, chosen.name)}
                {column("column-last-name", words::LAST_NAME, chosen.last_name)}
                {column("column-unit", words::UNIT, chosen.unit)}
                {column("column-role", words::ROLE, chosen.role)}
                {column("column-since", words::SINCE, chosen.since)}
                {column("column-last-day", words::LAST_DAY, chosen.last_day)}
                {select("column-dates", words::DATES, dates, chosen.dates)}
            </div>
            <div class="choices">
                {tick("import-everybody", words::EVERYBODY, words::EVERYBODY_HINT, chosen.everybody)}
            </div>
            {trying.told()}
            <div class="row">
                <button type="submit" class="button primary" id="try-import"
                    disabled=move || trying.busy()>{words::TRY}</button>
            </div>
        </form>
        {move || Some(would_change(trying.answer()?, trying.last()?))}
    }
}

fn first_rows(table: &PeopleTable) -> impl IntoView + use<> {
    let head = table.header.iter().map(|name| view! { <th scope="col">{name.clone()}</th> }).collect_view();
    let rows = table.first_rows.iter().map(|row| {
        view! { <tr>{row.iter().map(|cell| view! { <td>{cell.clone()}</td> }).collect_view()}</tr> }
    });
    view! {
        <details>
            <summary>{words::FIRST_ROWS}</summary>
            <div class="table-frame" tabindex="0" role="region" aria-label=words::FIRST_ROWS>
                <table><thead><tr>{head}</tr></thead><tbody>{rows.collect_view()}</tbody></table>
            </div>
        </details>
    }
}

fn would_change(told: ImportTold, import: TryImport) -> impl IntoView {
    let despite = RwSignal::new(false);
    let announcer = Announcer::here();
    let confirm = doing::<ConfirmImport>(move |told: ImportTold| {
        announcer.say(words::done(told.changes.len()));
    });
    let (count, bad) = (told.changes.len(), told.bad.clone());
    let nothing = count == 0;
    let request = ConfirmImport { import, told: told.told.clone(), despite_bad: false };
    let go = move |_| {
        confirm.go(ConfirmImport { despite_bad: despite.get_untracked(), ..request.clone() });
    };
    let has_bad = !bad.is_empty();
    view! {
        <section class="stack" id="import" aria-labelledby="would-title">
            <h2 id="would-title">{words::WOULD}</h2>
            <p class="lead" role="status">{words::summary(count, told.unchanged, told.left_before.len(), bad.len())}</p>
            {(!told.new_units.is_empty()).then(|| view! { <p>{words::new_units(&told.new_units)}</p> })}
            {changes(told.changes)}
            {(!told.left_before.is_empty()).then(|| left_before(told.left_before))}
            {has_bad.then(|| bad_rows(bad))}
            {(has_bad && !nothing).then(|| view! {
                <div class="choices">{tick("despite-bad", words::DESPITE, "", despite)}</div>
            })}
            {confirm.told()}
            {move || if let Some(told) = confirm.answer() {
                view! {
                    <p class="note good" id="imported" role="status">{words::done(told.changes.len())}</p>
                }.into_any()
            } else {
                let go = go.clone();
                view! {
                    <div class="row">
                        <button type="button" class="button primary" id="confirm-import"
                            disabled=move || nothing || confirm.busy() || (has_bad && !despite.get())
                            on:click=go>{words::CONFIRM}</button>
                    </div>
                }.into_any()
            }}
        </section>
    }
}

fn changes(all: Vec<ImportChange>) -> impl IntoView {
    if all.is_empty() {
        return view! { <p class="note">{words::NOTHING}</p> }.into_any();
    }
    let of = all.len();
    let rows = all.into_iter().take(MOST).map(|change| {
        let line = change.line.map_or_else(|| words::MISSING.to_owned(), |line| line.to_string());
        let from = change.from.map(wording::date).unwrap_or_default();
        view! {
            <tr>
                <td>{line}</td>
                <th scope="row">{change.name}</th>
                <td>{words::kind(change.kind)}</td>
                <td>{change.before}</td>
                <td>{change.after}</td>
                <td>{from}</td>
            </tr>
        }
    });
    view! {
        <div class="table-frame" tabindex="0" role="group" aria-labelledby="would-title">
            <table>
                <thead><tr>
                    <th scope="col">{words::LINE}</th>
                    <th scope="col">{words::WHO}</th>
                    <th scope="col">{words::WHAT}</th>
                    <th scope="col">{words::BEFORE}</th>
                    <th scope="col">{words::AFTER}</th>
                    <th scope="col">{words::FROM}</th>
                </tr></thead>
                <tbody>{rows.collect_view()}</tbody>
            </table>
        </div>
        {(of > MOST).then(|| view! { <p class="small quiet-text">{words::shown(MOST, of)}</p> })}
    }
    .into_any()
}

fn left_before(all: Vec<(u64, String, NaiveDate)>) -> impl IntoView {
    let of = all.len();
    let each = all.into_iter().take(MOST).map(|(line, name, last)| {
        view! { <li>{words::left_before(line, &name, &wording::date(last))}</li> }
    });
    view! {
        <div class="note stack tight" id="left-before">
            <strong>{words::LEFT_BEFORE}</strong>
            <ul class="stack tight">{each.collect_view()}</ul>
            {(of > MOST).then(|| view! { <p class="small">{words::shown(MOST, of)}</p> })}
        </div>
    }
}

fn bad_rows(bad: Vec<(u64, String)>) -> impl IntoView {
    let of = bad.len();
    let each = bad.into_iter().take(MOST).map(|(line, why)| {
        view! { <li>{format!("{} {line}: {why}", words::LINE)}</li> }
    });
    view! {
        <div class="note warning stack tight" id="bad-rows">
            <strong>{words::BAD}</strong>
            <ul class="stack tight">{each.collect_view()}</ul>
            {(of > MOST).then(|| view! { <p class="small">{words::shown(MOST, of)}</p> })}
        </div>
    }
}
