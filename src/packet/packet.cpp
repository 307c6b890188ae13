#include "packet/packet.h"

#include <fmt/core.h>

#include <algorithm>

#include "text/files.h"

namespace stickwright {
namespace {

constexpr Box kMargins = {14, 11, 11, 17};  // left, top, right, foot
constexpr double kTitleHeight = 11;

struct PaperSize {
  double width, height;
};
PaperSize size_of(Paper paper) {
  return paper == Paper::a4 ? PaperSize{210, 297} : PaperSize{215.9, 279.4};
}

void draw_frame(Canvas& canvas, const FullPlan& plan, const Page& page, std::size_t number, std::size_t pages) {
  const double left = kMargins.x, right = canvas.width() - kMargins.w, foot = canvas.height() - kMargins.h + 4;
  canvas.text({left, kMargins.y}, page.title, {.points = 14, .bold = true, .width = right - left, .ellipsis = true});
  canvas.line({left, kMargins.y + 7.6}, {right, kMargins.y + 7.6}, {.width = 0.5});
  const std::string& batch = plan.batch.batch.name;
  canvas.text({left, foot + 3.2}, batch, {.points = 7.5, .width = 70, .ellipsis = true});
  canvas.text({right, foot + 3.2}, fmt::format("page {} of {}", number, pages), {.points = 7.5, .align = Align::right});
  canvas.line({left, foot}, {left + 100, foot}, {.width = 0.25});
  for (double x : {0.0, 100.0}) canvas.line({left + x, foot - 1}, {left + x, foot + 1}, {.width = 0.25});
  canvas.text({left + 102, foot - 1.5}, "100 mm when printed at full size", {.points = 6.5, .gray = 0.3});
}

Box drawing_area(const Canvas& canvas) {
  return {kMargins.x, kMargins.y + kTitleHeight, canvas.width() - kMargins.x - kMargins.w,
          canvas.height() - kMargins.y - kTitleHeight - kMargins.h};
}

std::string iso_date(std::chrono::year_month_day d) {
  return fmt::format("{:04}-{:02}-{:02}T00:00:00", static_cast<int>(d.year()), static_cast<unsigned>(d.month()),
                     static_cast<unsigned>(d.day()));
}

std::vector<Page> all_pages(const FullPlan& plan, Canvas& paper) {
  Sheets sheets{plan, paper, drawing_area(paper), {}};
  add_truing_card(sheets);
  add_fit_sheets(sheets);
  add_set_up_cards(sheets);
  add_stick_sheets(sheets);
  add_glue_sheets(sheets);
  add_week_sheets(sheets);
  add_owner_sheets(sheets);
  add_cover(sheets);
  return std::move(sheets.pages);
}

}  // namespace

Result<int> write_packet(const FullPlan& plan, Paper paper, const std::string& path) {
  const PaperSize size = size_of(paper);
  const std::string &title = plan.batch.batch.name, date = iso_date(plan.batch.batch.start);
  Canvas trial(size.width, size.height, title, date), canvas(size.width, size.height, title, date);
  const std::vector<Page> pages = all_pages(plan, trial);
  for (std::size_t i = 0; i < pages.size(); ++i) {
    canvas.bookmark(pages[i].title, static_cast<int>(i) + 1);
    draw_frame(canvas, plan, pages[i], i + 1, pages.size());
    pages[i].draw(canvas, drawing_area(canvas));
    canvas.end_page();
  }
  std::string wrong;
  const std::string pdf = canvas.finish(wrong);
  if (!wrong.empty()) return Problem{"cannot_write", path, "The packet could not be drawn: " + wrong + ".", ""};
  if (const auto written = write_file(path, pdf); !written) return written.problem();
  return static_cast<int>(pages.size());
}

std::vector<std::string> woods_in(const FullPlan& plan) {
  std::vector<std::string> woods;
  for (const WoodPlan& w : plan.sticks.woods) woods.push_back(w.wood);
  return woods;
}

Hatch hatch_of_wood(const FullPlan& plan, const std::string& wood) {
  const auto woods = woods_in(plan);
  return hatch_of(static_cast<std::size_t>(std::find(woods.begin(), woods.end(), wood) - woods.begin()));
}

double draw_wood_key(Canvas& canvas, At at, const FullPlan& plan) {
  double x = at.x, y = at.y;
  for (const std::string& wood : woods_in(plan)) {
    const double w = 13 + canvas.text_width(wood, {.points = 8});
    if (x > at.x && x + w > canvas.width() - kMargins.w) x = at.x, y += 5;
    canvas.box({x, y, 7, 4}, {.gray = 0.95, .hatch = hatch_of_wood(plan, wood), .hatch_gap = 1.1}, {.width = 0.25});
    canvas.text({x + 8.5, y + 0.3}, wood, {.points = 8});
    x += w;
  }
  return y - at.y + 5;
}

}  // namespace stickwright
