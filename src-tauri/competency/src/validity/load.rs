//! How many validations run out when.

use chrono::{Datelike, Days, Months, NaiveDate};

/// How many of these dates lie in each of `months` calendar months, the month of `today` first.
pub fn due_load(
    valid_until: impl IntoIterator<Item = NaiveDate>,
    today: NaiveDate,
    months: u32,
) -> Vec<(NaiveDate, u32)> {
    let first = today - Days::new(u64::from(today.day0()));
    let mut load: Vec<(NaiveDate, u32)> = (0..months)
        .filter_map(|ahead| first.checked_add_months(Months::new(ahead)))
        .map(|month| (month, 0))
        .collect();
    for until in valid_until {
        let same_month = |(month, _): &&mut (NaiveDate, u32)| {
            (month.year(), month.month()) == (until.year(), until.month())
        };
        if let Some((_month, due)) = load.iter_mut().find(same_month) {
            *due += 1;
        }
    }
    load
}

/// How many of these dates lie in each of `weeks` weeks, each named by its Monday (ISO 8601), that of `today`
/// first. Those before it are not among them: they have run out already.
pub fn due_weeks(
    valid_until: impl IntoIterator<Item = NaiveDate>,
    today: NaiveDate,
    weeks: u32,
) -> Vec<(NaiveDate, u32)> {
    let monday = |date: NaiveDate| date - Days::new(u64::from(date.weekday().num_days_from_monday()));
    let first = monday(today);
    let mut load: Vec<(NaiveDate, u32)> = (0..u64::from(weeks))
        .filter_map(|ahead| Some((first.checked_add_days(Days::new(7 * ahead))?, 0)))
        .collect();
    for until in valid_until {
        let ahead = usize::try_from((monday(until) - first).num_days() / 7);
        if let Some((_monday, due)) = ahead.ok().and_then(|ahead| load.get_mut(ahead)) {
            *due += 1;
        }
    }
    load
}

#[cfg(test)]
mod tests {
    use super::*;

    fn date(text: &str) -> NaiveDate {
        text.parse().unwrap()
    }

    #[test]
    fn the_load_counts_calendar_months_across_a_year_s_end() {
        let dates = ["2026-11-01", "2026-11-30", "2026-12-31", "2027-10-31", "2027-11-01"].map(date);
        let load = due_load(dates, date("2026-11-25"), 12);
        assert_eq!(load.len(), 12);
        assert_eq!(load[0], (date("2026-11-01"), 2));
        assert_eq!(load[1], (date("2026-12-01"), 1));
        assert_eq!(load[11], (date("2027-10-01"), 1));
        assert_eq!(load.iter().map(|(_, due)| due).sum::<u32>(), 4, "November a year later lies beyond");
    }

    /// 23 November 2026 is a Monday; the year 2026 has 53 weeks by ISO 8601.
    #[test]
    fn the_load_counts_weeks_from_monday_to_sunday() {
        let dates = [
            "2026-11-22",
            "2026-11-23",
            "2026-11-29",
            "2026-11-30",
            "2027-01-03",
            "2027-11-21",
            "2027-11-22",
        ];
        let load = due_weeks(dates.map(date), date("2026-11-25"), 52);
        assert_eq!(load.len(), 52);
        let due: Vec<_> =
            load.iter().filter(|(_, due)| *due > 0).map(|(week, due)| (week.to_string(), *due)).collect();
        let expected = [("2026-11-23", 2), ("2026-11-30", 1), ("2026-12-28", 1), ("2027-11-15", 1)];
        assert_eq!(due, expected.map(|(week, due)| (week.to_owned(), due)));
        assert!(load.iter().all(|(week, _)| week.weekday() == chrono::Weekday::Mon));
    }
}
