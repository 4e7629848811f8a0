//! A drawing as a page of its own for a browser.

use crate::sheet::drawing::Drawing;
use crate::sheet::{svg, xml::escaped};

/// Returns a drawing as a page of HTML: it fetches nothing, nothing in it acts, and printed it fills one sheet.
pub fn page(drawing: &Drawing) -> String {
    let title = escaped(drawing.title.as_str());
    let (width, height) = (drawing.width.ceil(), drawing.height.ceil());
    let style =
        format!("body {{ margin: 0 }} svg {{ display: block }} @page {{ size: {width}pt {height}pt; margin: 0 }}");
    format!(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<title>{title}</title>\n\
         <style>{style}</style>\n</head>\n<body>\n{}</body>\n</html>\n",
        svg::element(drawing)
    )
}
