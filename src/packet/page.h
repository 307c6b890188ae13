// page.h - a sheet of the packet, and what several sheets draw alike.
#pragma once
#include <functional>
#include <string>
#include <vector>

#include "packet/canvas.h"

namespace stickwright {

struct Page {
  std::string title;
  std::function<void(Canvas&, Box)> draw;  // inside the box: margins, title and foot are drawn for it
  bool continued = false;                  // goes on with what the page before began
};

// A column of a table: share of the width, and how it is set.
struct Column {
  std::string head;
  double share = 1;
  Align align = Align::left;
};
using Row = std::vector<std::string>;

// Draws the head and as many rows as fit; cells wrap.   returns  the index of the first row that did not fit, and below
// which y the page is free
struct Drawn {
  std::size_t next = 0;
  double y = 0;
};
Drawn draw_table(Canvas& canvas, Box area, const std::vector<Column>& columns, const std::vector<Row>& rows,
                 std::size_t first, double points = 8);

// The first row after `first` that does not fit into the area any more; at least one row is taken.
std::size_t rows_that_fit(const Canvas& paper, Box area, const std::vector<Column>& columns,
                          const std::vector<Row>& rows, std::size_t first, double points = 8);

// Splits a table over as many pages as it needs: the paper measures the text, the area is what a page has.
void add_table_pages(std::vector<Page>& pages, const Canvas& paper, Box area, const std::string& title,
                     const std::vector<Column>& columns, const std::vector<Row>& rows, double points = 8);

// A box with a sign, for cautions.   returns  its height
double draw_cautions(Canvas& canvas, At at, double width, const std::vector<std::string>& lines);

// The same words with numbers that keep with their units at the end of a line; "+-" as one sign.
std::string kept_together(std::string words);

// Hatches in the order in which things that must be told apart take them.
Hatch hatch_of(std::size_t index);

}  // namespace stickwright
