//! The system's key store: on a desktop, whoever answers as the Secret Service of freedesktop.org on the bus of the
//! session. Elsewhere this program knows none.

pub(super) use store::{keep, read};

#[cfg(all(unix, not(any(target_os = "macos", target_os = "ios", target_os = "android"))))]
mod store {
    use std::collections::HashMap;

    use secret_service::{EncryptionType, Error, blocking::SecretService};

    /// What stands over the entry where people look at their key store.
    const LABEL: &str = "Doorside: the secret of this device";

    /// Keeps a secret under a name of its own, and says whether it is there: only where a store is open already.
    /// Nobody is asked for a password on a device that has to work without one.
    pub(crate) fn keep(name: &str, secret: &[u8; 32]) -> bool {
        let kept = || {
            let service = SecretService::connect(EncryptionType::Dh)?;
            let collection = service.get_default_collection()?;
            if collection.is_locked()? {
                return Err(Error::Locked);
            }
            let kind = "application/octet-stream";
            collection.create_item(LABEL, attributes(name), secret, false, kind)?.get_secret()
        };
        kept().is_ok_and(|read| read == secret)
    }

    /// The secret of this name; the system may ask its user to unlock the store. `Err` says why there is none.
    pub(crate) fn read(name: &str) -> Result<[u8; 32], String> {
        let read = || {
            let service = SecretService::connect(EncryptionType::Dh)?;
            let found = service.search_items(attributes(name))?;
            let item = found.unlocked.first().or(found.locked.first()).ok_or(Error::NoResult)?;
            if item.is_locked()? {
                item.unlock()?;
            }
            item.get_secret()
        };
        match read() {
            Ok(secret) => secret.try_into().or(Err("what it holds is no secret of a device".to_owned())),
            Err(Error::NoResult) => Err("it has no such entry".to_owned()),
            Err(Error::Locked | Error::Prompt | Error::PromptDisconnected) => Err("it is locked".to_owned()),
            Err(Error::Unavailable) => Err("none answers here".to_owned()),
            Err(other) => Err(other.to_string()),
        }
    }

    fn attributes(name: &str) -> HashMap<&str, &str> {
        HashMap::from([("application", crate::window::IDENTIFIER), ("device", name)])
    }
}

#[cfg(not(all(unix, not(any(target_os = "macos", target_os = "ios", target_os = "android")))))]
mod store {
    /// Keeps nothing.
    pub(crate) fn keep(_name: &str, _secret: &[u8; 32]) -> bool {
        false
    }

    /// Holds nothing.
    pub(crate) fn read(_name: &str) -> Result<[u8; 32], String> {
        Err("this build uses none".to_owned())
    }
}
