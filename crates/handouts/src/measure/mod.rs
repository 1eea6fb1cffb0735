//! How wide words are, so that a drawing places them without a browser.

mod advances;

/// Weight of type; there are two.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Weight {
    /// 400.
    Regular,
    /// 700.
    Bold,
}

/// Width of a line of words in px at a size in px. Signs outside the face count as one em, which is never too little.
pub fn width_px(text: &str, size_px: f64, weight: Weight) -> f64 {
    let table = match weight {
        Weight::Regular => &advances::REGULAR,
        Weight::Bold => &advances::BOLD,
    };
    let thousandths: u32 = text
        .chars()
        .map(|sign| {
            let place = (sign as usize).checked_sub(0x20);
            match place.and_then(|i| table.get(i)) {
                Some(&advance) if advance > 0 => u32::from(advance),
                _ => 1000,
            }
        })
        .sum();
    f64::from(thousandths) * size_px / 1000.0
}

/// Breaks words into lines no wider than `width`; a word wider than that stands alone on its line.
pub fn break_lines(text: &str, size_px: f64, weight: Weight, width: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        if let Some(last) = lines.last_mut() {
            let longer = format!("{last} {word}");
            if width_px(&longer, size_px, weight) <= width {
                *last = longer;
                continue;
            }
        }
        lines.push(word.to_owned());
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reference_widths_are_those_of_the_font_file() {
        // Source: hmtx of fonts/NotoSans-Regular.woff2 and -Bold.woff2: 'H' 741 and 765 thousandths.
        assert!((width_px("H", 1000.0, Weight::Regular) - 741.0).abs() < 1e-9);
        assert!((width_px("H", 1000.0, Weight::Bold) - 765.0).abs() < 1e-9);
    }

    #[test]
    fn lines_are_never_wider_than_asked_unless_one_word_is() {
        let lines = break_lines("the bottom stair by the door", 13.0, Weight::Regular, 60.0);
        assert_eq!(lines.join(" "), "the bottom stair by the door");
        for line in lines {
            assert!(width_px(&line, 13.0, Weight::Regular) <= 60.0 || !line.contains(' '));
        }
    }
}
