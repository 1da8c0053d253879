//! Joining a facility: a new device asks, the authority answers with the facility's ledger.

use contract::{
    AnswerJoinRequest, Fault, JoinRequestRead, JoinRequested, MakeJoinRequest, Next, ReadJoinRequest, Shown,
    beginning,
};
use ledger::{LedgerError, Moment};
use sealing::DevicePublic;
use serde::{Deserialize, Serialize};

use super::{Desk, Keys, PROGRAM, authority::issued, device_key_name};
use crate::{
    chance,
    fault::{backup_fault, ledger_fault, sealing_fault},
};

/// What a device says of itself when it asks to join.
#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Request {
    /// 1. Its name in the file tells what the file is.
    #[serde(rename = "doorside_join_request")]
    format: u32,
    /// The device's public key, hexadecimal.
    key: String,
    /// Name and version of the program.
    program: String,
}

impl Desk {
    /// Saves a request to join, with this device's public key.
    pub(crate) fn make_join_request(&self, _request: &MakeJoinRequest) -> Result<JoinRequested, Fault> {
        if self.reader().facts(None).map_err(ledger_fault)?.facility.is_some() {
            return Err(ledger_fault(LedgerError::FacilityExists));
        }
        let key = hexadecimal(&self.device.public().to_bytes());
        let request = Request { format: 1, key, program: PROGRAM.to_owned() };
        let text = serde_json::to_vec_pretty(&request).map_err(|_never| unreadable())?;
        let short = beginning(&self.device_name());
        let saved = self.save(&format!("join-request-{short}.json"), &text)?;
        Ok(JoinRequested { path: saved.path, fingerprint: told(&self.device_name()) })
    }

    /// Which device a request is of, before anybody answers it: whoever carried it could have changed it on the way.
    pub(crate) fn read_join_request(&self, request: &ReadJoinRequest) -> Result<JoinRequestRead, Fault> {
        if self.reader().facts(None).map_err(ledger_fault)?.facility.is_none() {
            return Err(ledger_fault(LedgerError::NoFacility));
        }
        let public = asked(&request.request)?;
        Ok(JoinRequestRead { fingerprint: told(&evidence::digest(&public.to_bytes()).to_string()) })
    }

    /// Answers a request to join: certifies the device, and saves the facility's ledger as it then stands, to be
    /// restored there.
    pub(crate) fn answer_join_request(
        &self,
        request: &AnswerJoinRequest,
        now: &Moment,
    ) -> Result<Shown, Fault> {
        let public = asked(&request.request)?;
        let device = evidence::digest(&public.to_bytes()).to_string();
        let short = beginning(&device);
        let authority = self.authority(&request.passphrase)?;
        self.renew_list(&authority, now)?;
        let certificate = authority
            .certify_other_device(
                &public,
                &format!("Device {short}"),
                &device,
                now.wall.to_utc(),
                self.seed()?,
            )
            .map_err(sealing_fault)?;
        self.ledger.put_key(&device_key_name(&device), &public.to_bytes()).map_err(ledger_fault)?;
        let keys = Keys { authority: Some(&authority), ..Keys::default() };
        self.write_with(keys, &[issued(&device, &certificate)?], now)?;
        let path = self.folder().unused_export(&format!("join-answer-{short}.zip"));
        self.reader().back_up(&path, now, PROGRAM, chance::id()).map_err(backup_fault)?;
        Ok(Shown { path: path.display().to_string(), opened: false })
    }
}

/// So much of a fingerprint is compared by eye: eighty bits, which nobody finds another key for.
const COMPARED: usize = 20;

fn told(device: &str) -> String {
    device.chars().take(COMPARED).collect()
}

/// The key of the device that asks.
fn asked(request: &str) -> Result<DevicePublic, Fault> {
    let asked: Request = serde_json::from_str(request).map_err(|_other| unreadable())?;
    let key = bytes(&asked.key).ok_or_else(unreadable)?;
    DevicePublic::read(&key).map_err(|_other| unreadable())
}

fn hexadecimal(bytes: &[u8]) -> String {
    let digit = |half: u8| char::from_digit(u32::from(half), 16);
    bytes.iter().flat_map(|byte| [byte >> 4, byte & 15]).filter_map(digit).collect()
}

fn bytes(text: &str) -> Option<Vec<u8>> {
    let (pairs, rest) = text.as_bytes().as_chunks::<2>();
    let byte = |pair: &[u8; 2]| u8::from_str_radix(std::str::from_utf8(pair).ok()?, 16).ok();
    rest.is_empty().then(|| pairs.iter().map(byte).collect::<Option<Vec<u8>>>()).flatten()
}

fn unreadable() -> Fault {
    Fault::new(
        Next::MendInput,
        "That file is no request to join; make one on the new device, and choose it here.",
    )
}
