//! What a report has to name and no calculation uses.

use serde::{Deserialize, Serialize};

/// A field of the report.
///
/// The set is the union of what reports are required to hold: the record list of NAVSEA T9074-AS-GIB-010/271
/// 6.6.4.5 (seen), the report clauses of ISO 17640 and ASME V article 4 T-492 and the result form of AWS D1.1 annex M
/// (from memory). Fields that facts of their own hold, such as the examiner or the joint, are not among them.
///
/// The order of the variants is the wire format: new ones are appended, none is moved.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[non_exhaustive]
pub enum ReportField {
    /// Who ordered the examination.
    Client,
    /// Contract or project.
    Project,
    /// Number of the report.
    ReportNumber,
    /// Where the examination took place.
    Place,
    /// Standard with edition, class or level.
    Standard,
    /// The item, ship or structure.
    Item,
    /// Drawing.
    Drawing,
    /// The weld's own name and where it is on the item.
    Weld,
    /// Product form of the parent metal.
    ProductForm,
    /// Welding process.
    Process,
    /// Heat treatment and stage of manufacture.
    HeatTreatment,
    /// Surface condition.
    Surface,
    /// Temperature of the part.
    Temperature,
    /// When and by whom the instrument was last calibrated.
    InstrumentCalibrated,
    /// Cable type and length.
    Cable,
    /// Couplant.
    Couplant,
    /// Calibration and reference blocks.
    Blocks,
    /// Range of the time base.
    Range,
    /// Suppression (the reject control) and damping.
    Damping,
    /// Testing level.
    TestingLevel,
    /// Directions of scanning.
    Directions,
    /// Length of weld examined.
    LengthExamined,
    /// What could not be covered, and why.
    NotCovered,
    /// Result of the scan of the parent metal for laminations.
    Lamination,
    /// Supplementary techniques.
    Supplementary,
    /// Repairs and re-examination.
    Repair,
    /// Who reviewed the report.
    Reviewer,
    /// Who witnessed the examination.
    Witness,
}
