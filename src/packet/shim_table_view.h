// shim_table_view.h - reading to leaves as a table for the wall beside the saw, and the words in it.
#pragma once
#include <string>
#include <vector>

#include "packet/page.h"
#include "shop/shop.h"
#include "truing/shim_table.h"

namespace stickwright {

// "0.40 + 0.05": the thickest first, in millimeters.
std::string leaves_in_words(const std::vector<Nm>& owned, const std::vector<std::size_t>& leaves);

// "15.980–16.020"; one number when both ends are the same.
std::string range_in_words(Mm first, Mm last);

// What a row says to do: leaves, "leave it", "remake", "true the miter first".
std::string advice_in_words(const std::vector<Nm>& owned, const ShimRow& row);

// The rows nearest to the target, at most so many, in their order.
std::vector<ShimRow> rows_about(const std::vector<ShimRow>& rows, Mm target, std::size_t most);

// Title, rows about the target, and where the rest is, if there is any.   returns  the height it takes
struct ShimTableView {
  std::string title;
  const std::vector<ShimRow>& rows;
  const std::vector<Nm>& owned;
  Mm target;
  std::size_t most = 12;
};
double draw_shim_table(Canvas& canvas, At at, double width, const ShimTableView& view);

}  // namespace stickwright
