#include "packet/page.h"

#include <algorithm>

namespace stickwright {
namespace {

constexpr double kCellPad = 0.9;

Font cell_font(const Column& c, double width, double points) {
  return {.points = points, .align = c.align, .width = width - 2 * kCellPad};
}

double row_height(const Canvas& canvas, const std::vector<Column>& columns, const std::vector<double>& widths,
                  const Row& row, double points) {
  double h = 0;
  for (std::size_t i = 0; i < row.size(); ++i)
    h = std::max(h, canvas.text_height(row[i].empty() ? " " : row[i], cell_font(columns[i], widths[i], points)));
  return h + 2 * kCellPad;
}

void draw_row(Canvas& canvas, At at, const std::vector<Column>& columns, const std::vector<double>& widths,
              const Row& row, double points, bool bold) {
  double x = at.x;
  for (std::size_t i = 0; i < row.size(); ++i) {
    Font font = cell_font(columns[i], widths[i], points);
    font.bold = bold;
    canvas.text({x + kCellPad, at.y + kCellPad}, row[i], font);
    x += widths[i];
  }
}

std::vector<double> widths_of(const std::vector<Column>& columns, double width) {
  double shares = 0;
  for (const Column& c : columns) shares += c.share;
  std::vector<double> widths;
  for (const Column& c : columns) widths.push_back(width * c.share / shares);
  return widths;
}

Row heads_of(const std::vector<Column>& columns) {
  Row heads;
  for (const Column& c : columns) heads.push_back(c.head);
  return heads;
}

double head_height(const Canvas& canvas, const std::vector<Column>& columns, const std::vector<double>& widths,
                   double points) {
  const Row heads = heads_of(columns);
  const bool none = std::all_of(heads.begin(), heads.end(), [](const std::string& h) { return h.empty(); });
  if (none) return 0;
  double h = 0;
  for (std::size_t i = 0; i < heads.size(); ++i) {
    Font font = cell_font(columns[i], widths[i], points);
    font.bold = true;
    h = std::max(h, canvas.text_height(heads[i].empty() ? " " : heads[i], font));
  }
  return h + 2 * kCellPad + 0.4;
}

}  // namespace

std::size_t rows_that_fit(const Canvas& canvas, Box area, const std::vector<Column>& columns,
                          const std::vector<Row>& rows, std::size_t first, double points) {
  const auto widths = widths_of(columns, area.w);
  double y = head_height(canvas, columns, widths, points);
  std::size_t i = first;
  for (; i < rows.size(); ++i) {
    y += row_height(canvas, columns, widths, rows[i], points);
    if (y > area.h && i > first) break;
  }
  return i;
}

Drawn draw_table(Canvas& canvas, Box area, const std::vector<Column>& columns, const std::vector<Row>& rows,
                 std::size_t first, double points) {
  const auto widths = widths_of(columns, area.w);
  const double head = head_height(canvas, columns, widths, points);
  if (head > 0) draw_row(canvas, {area.x, area.y}, columns, widths, heads_of(columns), points, true);
  double y = area.y + head;
  canvas.line({area.x, y}, {area.x + area.w, y}, {.width = 0.35});
  const std::size_t last = rows_that_fit(canvas, area, columns, rows, first, points);
  for (std::size_t i = first; i < last; ++i) {
    draw_row(canvas, {area.x, y}, columns, widths, rows[i], points, false);
    y += row_height(canvas, columns, widths, rows[i], points);
    canvas.line({area.x, y}, {area.x + area.w, y}, {.width = 0.1, .gray = 0.6});
  }
  return {last, y};
}

void add_table_pages(std::vector<Page>& pages, const Canvas& paper, Box area, const std::string& title,
                     const std::vector<Column>& columns, const std::vector<Row>& rows, double points) {
  for (std::size_t first = 0; first < rows.size();) {
    const std::size_t last = rows_that_fit(paper, area, columns, rows, first, points);
    const std::vector<Row> part(rows.begin() + static_cast<std::ptrdiff_t>(first),
                                rows.begin() + static_cast<std::ptrdiff_t>(last));
    pages.push_back(
        {title, [=](Canvas& canvas, Box box) { draw_table(canvas, box, columns, part, 0, points); }, first > 0});
    first = last;
  }
}

double draw_cautions(Canvas& canvas, At at, double width, const std::vector<std::string>& lines) {
  const Font font = {.points = 7.5, .width = width - 14};
  double h = 2.4;
  for (const std::string& l : lines) h += canvas.text_height(l, font) + 0.6;
  canvas.box({at.x, at.y, width, h}, {}, {.width = 0.35});
  // A plain triangle with a stroke and a dot, as warning signs have.
  const At c = {at.x + 5.5, at.y + h / 2};
  canvas.polygon({{c.x - 3.6, c.y + 2.8}, {c.x + 3.6, c.y + 2.8}, {c.x, c.y - 3.4}}, {}, {.width = 0.5});
  canvas.line({c.x, c.y - 1.2}, {c.x, c.y + 0.9}, {.width = 0.6});
  canvas.disc({c.x, c.y + 1.9}, 0.35, {.gray = 0});
  double y = at.y + 1.2;
  for (const std::string& l : lines) y += canvas.text({at.x + 11.5, y}, l, font) + 0.6;
  return h;
}

std::string kept_together(std::string words) {
  for (const char* unit : {" mm", " %", " of 100"})
    for (std::size_t at = words.find(unit); at != std::string::npos; at = words.find(unit, at + 2))
      words.replace(at, 1, "\u00a0");
  for (std::size_t at = words.find("+- "); at != std::string::npos; at = words.find("+- ", at))
    words.replace(at, 3, "± ");
  for (std::size_t at = words.find("± "); at != std::string::npos; at = words.find("± ", at))
    words.replace(at, 3, "±\u00a0");
  return words;
}

Hatch hatch_of(std::size_t index) {
  constexpr Hatch order[] = {Hatch::none, Hatch::right, Hatch::cross, Hatch::level, Hatch::left, Hatch::upright};
  return order[index % std::size(order)];
}

}  // namespace stickwright
