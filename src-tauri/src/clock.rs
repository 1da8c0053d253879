//! The only reading of the time.

use chrono::Local;
use ledger::Moment;

/// The moment this is called: the wall clock with its offset and zone, and the time since the device
/// started, which nobody can set back.
pub(crate) fn now() -> Moment {
    Moment {
        wall: Local::now().fixed_offset(),
        zone: device_zone(),
        boot_ms: since_boot_ms(),
        boot_id: boot_id(),
    }
}

/// IANA name of the device's time zone; UTC where the system does not tell.
pub(crate) fn device_zone() -> String {
    iana_time_zone::get_timezone().unwrap_or_else(|_unknown| "Etc/UTC".to_owned())
}

/// Milliseconds since the device started, sleep included where the system counts it.
#[cfg(unix)]
fn since_boot_ms() -> i64 {
    #[cfg(any(target_os = "linux", target_os = "android"))]
    let clock = rustix::time::ClockId::Boottime;
    #[cfg(not(any(target_os = "linux", target_os = "android")))]
    let clock = rustix::time::ClockId::Monotonic;
    let time = rustix::time::clock_gettime(clock);
    time.tv_sec.saturating_mul(1000).saturating_add(time.tv_nsec / 1_000_000)
}

/// Milliseconds since this program first asked: it too cannot be set back, and [`boot_id`] names this run.
#[cfg(not(unix))]
fn since_boot_ms() -> i64 {
    static FIRST_ASKED: std::sync::LazyLock<std::time::Instant> = std::sync::LazyLock::new(std::time::Instant::now);
    i64::try_from(FIRST_ASKED.elapsed().as_millis()).unwrap_or(i64::MAX)
}

/// Names this start of the device; time since boot compares only within one.
///
/// Where the system has no such name, this run of the program stands for it: after a restart the wall
/// clock is used instead, which is right, if less sure.
fn boot_id() -> String {
    static BOOT_ID: std::sync::OnceLock<String> = std::sync::OnceLock::new();
    BOOT_ID
        .get_or_init(|| {
            std::fs::read_to_string("/proc/sys/kernel/random/boot_id")
                .map_or_else(|_absent| crate::chance::id().to_string(), |id| id.trim().to_owned())
        })
        .clone()
}
