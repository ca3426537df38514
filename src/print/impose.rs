//! Pages on sheets: two beside each other to be folded, in the order in which they are read when the sheets lie in each other,
//! with marks for folding and cutting; both sides turned over the edge that the marks name.

use super::face::width;
use super::page::{Face, Ink, Item, Page, SMALLEST, Stroke};
use super::size::Size;

/// How long a mark is, and how far it keeps off the page, points.
const MARK: f32 = 9.0;
const OFF: f32 = 3.0;

/// Why pages do not go on a sheet.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[error("two pages of {page} do not lie beside each other on {sheet}; take a smaller page or a larger sheet")]
pub struct NoRoom {
    page: Size,
    sheet: Size,
}

/// Which page (from 0) stands at the left and right of each side, sheet by sheet: front, back, front, back; `None` is blank.
///
/// ```
/// let order = marram::print::impose::order(8);
/// assert_eq!(order[0], (Some(7), Some(0)));
/// assert_eq!(order[1], (Some(1), Some(6)));
/// ```
pub fn order(pages: usize) -> Vec<(Option<usize>, Option<usize>)> {
    let whole = pages.div_ceil(4) * 4;
    let page = |n: usize| (n < pages).then_some(n);
    (0..whole / 4)
        .flat_map(|sheet| {
            let (low, high) = (2 * sheet, whole - 1 - 2 * sheet);
            // Behind the right page of the front stands the left page of the back.
            [(page(high), page(low)), (page(low + 1), page(high - 1))]
        })
        .collect()
}

/// Lays pages of one size on sheets.
///
/// # Errors
/// [`NoRoom`] when two pages are larger than the sheet.
pub fn impose(pages: &[Page], page: Size, paper: Size) -> Result<Vec<Page>, NoRoom> {
    let room = |sheet: Size| {
        let fits = 2.0 * page.width <= sheet.width + 0.5 && page.height <= sheet.height + 0.5;
        if fits { ((sheet.height + 0.5) / page.height).floor().min(2.0) as usize } else { 0 }
    };
    let sheet = [paper.lying(), paper].into_iter().max_by_key(|s| (room(*s), s.width > s.height)).unwrap_or(paper);
    let rows = room(sheet);
    if rows == 0 {
        return Err(NoRoom { page, sheet: paper });
    }
    let sides = order(pages.len());
    let folded = sides.len() / 2;
    // With two rows the upper half of the pile is the outer part of the book: cut, lay the lower pile on it, fold.
    let sheets = folded.div_ceil(rows);
    let (left, top) = (sheet.width / 2.0 - page.width, (sheet.height - rows as f32 * page.height) / 2.0);
    let mut out = Vec::new();
    for number in 0..sheets {
        for back in [0, 1] {
            let side = if back == 0 { "front" } else { "back" };
            let mut made = Page::new(sheet.width, sheet.height, &format!("sheet {} {side}", number + 1));
            for row in 0..rows {
                let folded = number + row * sheets;
                let y = top + row as f32 * page.height;
                if let Some((a, b)) = sides.get(2 * folded + back) {
                    for (which, x) in [(a, left), (b, left + page.width)] {
                        if let Some(printed) = which.and_then(|n| pages.get(n)) {
                            made.place(printed, x, y);
                        }
                    }
                }
            }
            marks(&mut made, page, rows, left, top);
            let turn = if sheet.width > sheet.height { "short" } else { "long" };
            let then =
                if rows == 2 { "; cut across, lay the lower pile on the upper, fold" } else { "; fold at the dashes" };
            let words = format!(
                "sheet {} of {sheets}, {side}; print at 100 %, both sides, turned on the {turn} edge{then}",
                number + 1
            );
            let wide = width(Face::Regular, SMALLEST, &words);
            let y = top - OFF - 2.0;
            if y > SMALLEST + 8.0 {
                let x = (sheet.width - wide) / 2.0;
                made.items.push(Item::Text {
                    x,
                    y: y - 10.0,
                    size: SMALLEST,
                    face: Face::Regular,
                    ink: Ink::SOFT,
                    words,
                });
            }
            out.push(made);
        }
    }
    Ok(out)
}

/// Marks at the corners for the knife, dashes for the fold; inside the pages where the sheet has no room outside them.
fn marks(made: &mut Page, page: Size, rows: usize, left: f32, top: f32) {
    let thin = Stroke::solid(Ink::BLACK, 0.4);
    let fold = Stroke::dashed(Ink::BLACK, 0.5, 2.0, 1.5);
    let right = left + 2.0 * page.width;
    let bottom = top + rows as f32 * page.height;
    let middle = left + page.width;
    let mut push = |from: (f32, f32), to: (f32, f32), stroke| made.items.push(Item::rule(from, to, stroke));
    for y in (0..=rows).map(|r| top + r as f32 * page.height) {
        push((left - OFF, y), (left - OFF - MARK, y), thin);
        push((right + OFF, y), (right + OFF + MARK, y), thin);
        if left < OFF {
            push((left.max(0.0), y), (left.max(0.0) + 5.0, y), thin);
            push((right - 5.0, y), (right, y), thin);
        }
    }
    for x in [left, right] {
        push((x, top - OFF), (x, top - OFF - MARK), thin);
        push((x, bottom + OFF), (x, bottom + OFF + MARK), thin);
    }
    push((middle, top - OFF), (middle, top - OFF - MARK), fold);
    push((middle, bottom + OFF), (middle, bottom + OFF + MARK), fold);
    if top < OFF {
        push((middle, 0.0), (middle, 6.0), fold);
        push((middle, bottom - 6.0), (middle, bottom), fold);
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::indexing_slicing)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// Folds sheets laid in each other and reads the pages in order: the way a reader turns them.
    fn read(sides: &[(Option<usize>, Option<usize>)]) -> Vec<Option<usize>> {
        let sheets = sides.len() / 2;
        let mut out = Vec::new();
        // First halves from the outside in: the right of each front, then behind it the left of its back.
        for sheet in 0..sheets {
            out.push(sides[2 * sheet].1);
            out.push(sides[2 * sheet + 1].0);
        }
        for sheet in (0..sheets).rev() {
            out.push(sides[2 * sheet + 1].1);
            out.push(sides[2 * sheet].0);
        }
        out
    }

    proptest! {
        #[test]
        fn folded_sheets_read_in_order(pages in 1usize..80) {
            let found = read(&order(pages));
            let expected: Vec<Option<usize>> = (0..pages.div_ceil(4) * 4).map(|n| (n < pages).then_some(n)).collect();
            prop_assert_eq!(found, expected);
        }
    }

    #[test]
    fn a_pocket_page_goes_twice_on_a4_and_letter_and_a6_four_times_on_a4() {
        let pages: Vec<Page> = (0..21).map(|n| Page::new(1.0, 1.0, &n.to_string())).collect();
        for paper in [Size::A4, Size::LETTER] {
            let made = impose(&pages, Size::POCKET, paper).unwrap();
            assert_eq!(made.len(), 12);
            assert!(made[0].width > made[0].height);
        }
        assert_eq!(impose(&pages, Size::A6, Size::A4).unwrap().len(), 6);
        assert!(impose(&pages, Size::A5, Size::LETTER).is_err());
    }
}
