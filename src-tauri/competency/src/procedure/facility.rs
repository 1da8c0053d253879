//! What the facility sets for itself: its pass rule, how long a validation holds, and the products and
//! models it uses. All of it stands in the procedure and is versioned with it.

use serde::{Deserialize, Serialize};

use super::{ActId, PassRule, Procedure, Step};

/// The products and models in use. The library leaves them open: they are the facility's to set.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Equipment {
    /// How long a surface must stay wet, by the act that wets it.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub contact_times: Vec<ContactTime>,
    /// The glove products.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub glove_products: Vec<Product>,
    /// The respirator models; a fit test is for the very model.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub respirator_models: Vec<Product>,
}

/// The contact time on the label of the very product in use; there is no universal one.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct ContactTime {
    /// The act that keeps the surface wet.
    pub act: ActId,
    /// The product; open until the facility names it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub product: Option<String>,
    /// The contact time in seconds; open until the facility sets it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub seconds: Option<u32>,
}

/// A product or model, and the acts beside which it is shown.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Product {
    /// Make and model, as people know it.
    pub name: String,
    /// The acts in which it is used.
    pub acts: Vec<ActId>,
}

impl Equipment {
    pub(super) fn is_empty(&self) -> bool {
        *self == Equipment::default()
    }

    /// What another procedure would have of this: the contact times of the acts that it times, and the products beside
    /// those of their acts that it has. What this says nothing about stays there as it is.
    #[must_use]
    pub fn carried_into(&self, other: &Procedure) -> Equipment {
        let own = &other.equipment;
        let time = |known: &ContactTime| {
            let same = self.contact_times.iter().find(|time| time.act == known.act);
            same.unwrap_or(known).clone()
        };
        let products = |from: &[Product], own: &[Product]| -> Vec<Product> {
            let of_other = |product: &Product| {
                let acts = product.acts.iter().filter(|act| other.acts.contains_key(*act)).cloned();
                Product { name: product.name.clone(), acts: acts.collect() }
            };
            let carried: Vec<Product> =
                from.iter().map(of_other).filter(|product| !product.acts.is_empty()).collect();
            if carried.is_empty() { own.to_vec() } else { carried }
        };
        Equipment {
            contact_times: own.contact_times.iter().map(time).collect(),
            glove_products: products(&self.glove_products, &own.glove_products),
            respirator_models: products(&self.respirator_models, &own.respirator_models),
        }
    }
}

/// Everything that the facility sets, as it is edited in one place.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FacilityValues {
    /// When a demonstration is good enough.
    pub pass: PassRule,
    /// How many calendar months a validation holds.
    pub valid_months: u32,
    /// Whether the other sequences of its family are accepted too.
    pub accepts_family: bool,
    /// The products and models in use.
    pub equipment: Equipment,
}

impl FacilityValues {
    /// Those of a procedure.
    pub fn of(procedure: &Procedure) -> Self {
        FacilityValues {
            pass: procedure.pass,
            valid_months: procedure.valid_months,
            accepts_family: procedure.accepts_family,
            equipment: procedure.equipment.clone(),
        }
    }

    /// Puts them into a procedure.
    pub fn put(self, procedure: &mut Procedure) {
        let FacilityValues { pass, valid_months, accepts_family, equipment } = self;
        procedure.pass = pass;
        procedure.valid_months = valid_months;
        procedure.accepts_family = accepts_family;
        procedure.equipment = equipment;
    }
}

impl Procedure {
    /// The least duration of an act in a step, in seconds: the published one, or the contact time of the
    /// facility's product where that is longer.
    pub fn least_seconds(&self, step: &Step, act: &str) -> Option<u32> {
        let times = self.equipment.contact_times.iter();
        let contact = times.filter(|time| time.act == act).filter_map(|time| time.seconds).max();
        step.min_seconds.get(act).copied().max(contact.filter(|_| step.acts.iter().any(|own| own == act)))
    }

    /// What the facility set that concerns this step, in sentences; what it still has to set, too.
    pub fn facility_notes(&self, step: &Step) -> Vec<String> {
        let used = |act: &ActId| step.acts.contains(act);
        let mut notes = Vec::new();
        for time in self.equipment.contact_times.iter().filter(|time| used(&time.act)) {
            let of = time.product.as_deref().map(|product| format!(" of {product}")).unwrap_or_default();
            notes.push(match time.seconds {
                Some(seconds) => format!("Contact time{of}: {seconds} seconds."),
                None => format!("Contact time{of}: not set yet; take it from the product’s label."),
            });
        }
        let in_use = |products: &[Product]| -> Vec<String> {
            let shown = products.iter().filter(|product| product.acts.iter().any(used));
            shown.map(|product| product.name.clone()).collect()
        };
        for (what, products) in
            [("Gloves", &self.equipment.glove_products), ("Respirator", &self.equipment.respirator_models)]
        {
            let names = in_use(products);
            if !names.is_empty() {
                notes.push(format!("{what} in use here: {}.", names.join(" or ")));
            }
        }
        notes
    }
}
