//! The chunk of a PNG file that says how large a pixel is, so that the picture is printed at its true size.
//!
//! # Source
//! PNG specification, third edition (W3C, 2025): 5.3 chunk layout, 11.3.5.3 `pHYs`, annex D cyclic redundancy code.

/// Length of the signature and of the header chunk, after which the chunk may stand.
const HEAD: usize = 8 + 25;
/// An inch has 0.0254 m.
const INCHES_IN_METRE: f64 = 1.0 / 0.0254;

/// The same picture with its density, dots an inch.
pub(super) fn with_density(png: &[u8], dots: u32) -> Vec<u8> {
    let Some((head, rest)) = png.split_at_checked(HEAD) else { return png.to_vec() };
    let per_metre = (f64::from(dots) * INCHES_IN_METRE).round() as u32;
    let mut said = b"pHYs".to_vec();
    said.extend(per_metre.to_be_bytes());
    said.extend(per_metre.to_be_bytes());
    said.push(1); // the unit is the metre
    let length = (said.len() - 4) as u32;
    let sum = check_sum(&said).to_be_bytes();
    [head, &length.to_be_bytes()[..], &said, &sum, rest].concat()
}

fn check_sum(bytes: &[u8]) -> u32 {
    let step = |sum: u32, _| if sum & 1 == 1 { (sum >> 1) ^ 0xedb8_8320 } else { sum >> 1 };
    let sum = bytes.iter().fold(u32::MAX, |sum, byte| (0..8).fold(sum ^ u32::from(*byte), step));
    !sum
}

#[cfg(test)]
mod tests {
    use super::check_sum;

    #[test]
    fn the_check_sum_is_that_of_the_standard() {
        // The check value of CRC-32/ISO-HDLC, "123456789": from memory; and the end chunk of every PNG file (annex of the PNG
        // specification): the sum over `IEND` is ae 42 60 82.
        assert_eq!(check_sum(b"123456789"), 0xcbf4_3926);
        assert_eq!(check_sum(b"IEND"), 0xae42_6082);
    }
}
