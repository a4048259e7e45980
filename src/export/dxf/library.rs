//! The entities of a drawing as the library writes them, in its binary form: there numbers stand as they are, and
//! need not be turned into text and back before they are written.

use super::DxfError;
use dxf::ExpectedType;
use dxf::enums::AcadVersion;

/// A value as the library gives it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Value<'b> {
    /// Text.
    Text(&'b str),
    /// A number with decimals.
    Number(f64),
    /// A whole number.
    Whole(i64),
}

/// A code and what it is given.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Given<'b> {
    /// What the value means.
    pub(super) code: u16,
    /// The value.
    pub(super) value: Value<'b>,
}

/// A drawing as the library writes it.
pub(super) struct Written {
    bytes: Vec<u8>,
    /// Up to release 12 a code is one byte, later two.
    wide: bool,
}

fn failed(reason: &str) -> DxfError {
    DxfError::Library { reason: reason.to_owned() }
}

impl Written {
    /// Has the library write a drawing.
    pub(super) fn of(drawing: &dxf::Drawing) -> Result<Self, DxfError> {
        let mut bytes = Vec::with_capacity(1 << 16);
        drawing.save_binary(&mut bytes).map_err(|e| failed(&e.to_string()))?;
        Ok(Self { bytes, wide: drawing.header.version >= AcadVersion::R13 })
    }

    /// Its entities.
    pub(super) fn entities(&self) -> Result<Vec<Given<'_>>, DxfError> {
        let begin: &[u8] = if self.wide { b"\x02\0ENTITIES\0" } else { b"\x02ENTITIES\0" };
        let at = self.bytes.windows(begin.len()).position(|w| w == begin).ok_or_else(|| failed("no entities"))?;
        let mut reader = Reader { bytes: self.bytes.get(at + begin.len()..).unwrap_or_default(), wide: self.wide };
        let mut all = Vec::new();
        loop {
            let given = reader.pair().ok_or_else(|| failed("its entities end too soon"))?;
            if given.code == 0 && given.value == Value::Text("ENDSEC") {
                return Ok(all);
            }
            all.push(given);
        }
    }
}

/// Reads pairs; none where the bytes hold no more, or what is not known.
struct Reader<'b> {
    bytes: &'b [u8],
    wide: bool,
}

impl<'b> Reader<'b> {
    fn pair(&mut self) -> Option<Given<'b>> {
        let code = if self.wide { u16::from_le_bytes(self.array()?) } else { u16::from(self.array::<1>()?[0]) };
        let value = match ExpectedType::new(i32::from(code))? {
            ExpectedType::Str => Value::Text(self.text()?),
            ExpectedType::Double => Value::Number(f64::from_le_bytes(self.array()?)),
            ExpectedType::Short => Value::Whole(i64::from(i16::from_le_bytes(self.array()?))),
            ExpectedType::Integer => Value::Whole(i64::from(i32::from_le_bytes(self.array()?))),
            ExpectedType::Long => Value::Whole(i64::from_le_bytes(self.array()?)),
            // None of the entities made here holds any.
            ExpectedType::Boolean | ExpectedType::Binary => return None,
        };
        Some(Given { code, value })
    }

    fn array<const N: usize>(&mut self) -> Option<[u8; N]> {
        let (first, rest) = self.bytes.split_first_chunk()?;
        self.bytes = rest;
        Some(*first)
    }

    fn text(&mut self) -> Option<&'b str> {
        let end = self.bytes.iter().position(|&b| b == 0)?;
        let (text, rest) = self.bytes.split_at_checked(end)?;
        self.bytes = rest.get(1..)?;
        std::str::from_utf8(text).ok()
    }
}
