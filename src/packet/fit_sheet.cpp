#include <fmt/core.h>
#include <fmt/ranges.h>

#include <map>
#include <memory>

#include "batch/fit_wording.h"
#include "packet/fit_tables.h"
#include "packet/fit_view.h"
#include "packet/flow.h"
#include "packet/packet.h"

namespace stickwright {
namespace {

constexpr double kPlayHeight = 54, kBarsHeight = 46, kYearHeight = 58;  // mm
constexpr std::size_t kMostContacts = 8, kRowsTogether = 14;
constexpr double kBelow = 4;  // mm after a part

std::string name_of(const FullPlan& plan, const PuzzleFit& p) {
  return plan.batch.puzzles[p.puzzle].design.design.name;
}

double draw_heading(Canvas& canvas, At at, double width, const std::string& words) {
  return words.empty() ? 0 : canvas.text(at, words, {.points = 9.5, .bold = true, .width = width}) + 1;
}

double draw_note(Canvas& canvas, At at, double width, const std::string& words) {
  return words.empty() ? 0 : canvas.text(at, words, {.points = 7.5, .width = width}) + 1;
}

SheetPart words_part(const std::vector<std::string>& sentences) {
  return [sentences](Canvas& canvas, At at, double width) {
    double y = at.y;
    for (const std::string& sentence : sentences) {
      canvas.disc({at.x + 1, y + 1.8}, 0.6, {.gray = 0});
      y += canvas.text({at.x + 3.5, y}, kept_together(sentence), {.points = 8.5, .width = width - 3.5}) + 1;
    }
    return y - at.y + kBelow;
  };
}

// A heading, a picture below it, and a note below that.
SheetPart picture_part(const std::string& heading, const std::string& note, const SheetPart& picture) {
  return [=](Canvas& canvas, At at, double width) {
    double y = at.y + draw_heading(canvas, at, width, heading);
    y += picture(canvas, {at.x, y}, width) + 1;
    y += draw_note(canvas, {at.x, y}, width, note);
    return y - at.y + kBelow;
  };
}

// A table with its heading and a note between them; a long one in several parts.
void add_table(std::vector<SheetPart>& parts, const std::string& heading, const std::string& note,
               const std::vector<Column>& columns, const std::vector<Row>& rows) {
  for (std::size_t from = 0; from < rows.size(); from += kRowsTogether) {
    const std::size_t to = std::min(rows.size(), from + kRowsTogether);
    const std::vector<Row> some(rows.begin() + static_cast<std::ptrdiff_t>(from),
                                rows.begin() + static_cast<std::ptrdiff_t>(to));
    parts.push_back([=](Canvas& canvas, At at, double width) {
      double y = at.y;
      if (from == 0) {
        y += draw_heading(canvas, at, width, heading);
        y += draw_note(canvas, {at.x, y}, width, note);
      }
      return draw_table(canvas, {at.x, y, width, 1e9}, columns, some, 0, 7.5).y - at.y + kBelow;
    });
  }
}

void add_play(std::vector<SheetPart>& parts, const FullPlan& plan, const PuzzleFit& p) {
  const auto view = std::make_shared<PlayView>(play_view(plan.fit, p));
  parts.push_back(picture_part(
      fmt::format("How much play: {} puzzles drawn by chance", p.counts.samples),
      "Play: how far apart all touching faces can stay when every piece stands where it fits best. Below 0 they press.",
      [view](Canvas& canvas, At at, double width) {
        draw_play(canvas, {at.x, at.y, width, kPlayHeight}, *view);
        return kPlayHeight;
      }));
  add_table(parts, "", "", kSpreadColumns, spread_rows(plan, p));
}

void add_sources(std::vector<SheetPart>& parts, const PuzzleFit& p) {
  parts.push_back(
      picture_part("What makes the play uncertain", contributions_key(), [&p](Canvas& canvas, At at, double width) {
        return draw_contributions(canvas, {at.x, at.y, width, kBarsHeight}, p.contributions);
      }));
}

void add_sizes(std::vector<SheetPart>& parts, const FullPlan& plan, const PuzzleFit& p) {
  add_table(parts, "What to set, and how exactly",
            "How exactly a stop must stand: twice its standard uncertainty, so that as many puzzles close as are asked "
            "for. A stop that is set short stands nearer to the blade; stacks on the cards are without it.",
            kSizeColumns, size_rows(plan, p));
}

void add_tight(std::vector<SheetPart>& parts, const FullPlan& plan, const PuzzleFit& p) {
  add_table(parts, "Where it binds",
            fmt::format("The middle puzzle, with the advice: it has {} of play. The forces on these faces hold every "
                        "piece in balance, so no way to place the pieces opens all of these gaps farther: that is the "
                        "proof of the play. The gaps are those of the puzzle pushed together as well as it goes, its "
                        "widest joint seen from outside {}.",
                        small_length(p.tight.play_mm), small_length(p.tight.widest_mm)),
            kTightColumns, tight_rows(plan, p, kMostContacts));
}

void add_sliding(std::vector<SheetPart>& parts, const FullPlan& plan, const PuzzleFit& p) {
  add_table(
      parts, "On the way out",
      fmt::format("{}: the least play while a step is made; step numbers as on the owner's sheet.", name_of(plan, p)),
      kSlidingColumns, sliding_rows(p));
}

void add_year(std::vector<SheetPart>& parts, const FullPlan& plan, const PuzzleFit& p) {
  if (!p.year || !plan.batch.batch.customer) return;
  const std::string& place = plan.batch.batch.customer->place;
  parts.push_back(picture_part(
      place.empty() ? "Over the year at the customer's" : fmt::format("Over the year at the customer's: {}", place),
      fmt::format("With the advice; the wood at {:.1f} % when it is cut and glued. The finish lets the wood lag {:g} "
                  "days behind the air: a rule of thumb.",
                  p.year->at_making, p.year->lag_days),
      [view = YearView{*p.year, plan.fit.asked.window}](Canvas& canvas, At at, double width) {
        draw_year(canvas, {at.x, at.y, width, kYearHeight}, view);
        return kYearHeight;
      }));
}

// Puzzles that cannot jam, of which there is little to say: those of which the same is said together.
void add_loose(std::vector<SheetPart>& parts, const FullPlan& plan, const std::vector<const PuzzleFit*>& loose) {
  std::map<std::vector<std::string>, std::vector<std::string>> names_by_words;
  for (const PuzzleFit* p : loose) names_by_words[fit_in_words(plan.batch, plan.fit, *p)].push_back(name_of(plan, *p));
  for (const auto& [words, names] : names_by_words)
    parts.push_back([heading = fmt::format("{}", fmt::join(names, "; ")), draw_words = words_part(words)](
                        Canvas& canvas, At at, double width) {
      const double head = draw_heading(canvas, at, width, heading);
      return head + draw_words(canvas, {at.x, at.y + head}, width);
    });
  for (const PuzzleFit* p : loose) add_sliding(parts, plan, *p);
}

// `loose` puzzles are told where the first page has room for them.
std::vector<SheetPart> parts_of(const FullPlan& plan, const PuzzleFit& p, const std::vector<const PuzzleFit*>& loose) {
  std::vector<SheetPart> parts;
  if (!loose.empty())
    parts.push_back([name = name_of(plan, p)](Canvas& canvas, At at, double width) {
      return draw_heading(canvas, at, width, name);
    });
  parts.push_back(words_part(fit_in_words(plan.batch, plan.fit, p)));
  add_play(parts, plan, p);
  add_sizes(parts, plan, p);
  add_loose(parts, plan, loose);
  add_sources(parts, p);
  add_tight(parts, plan, p);
  add_sliding(parts, plan, p);
  add_year(parts, plan, p);
  return parts;
}

std::string title_of(const FullPlan& plan, const std::vector<const PuzzleFit*>& puzzles) {
  std::vector<std::string> names;
  for (const PuzzleFit* p : puzzles) names.push_back(name_of(plan, *p));
  return fmt::format("Will it close: {}", fmt::join(names, "; "));
}

}  // namespace

void add_fit_sheets(Sheets& sheets) {
  const FullPlan& plan = sheets.plan;
  std::vector<const PuzzleFit*> loose;
  for (const PuzzleFit& p : plan.fit.puzzles)
    if (!p.binds) loose.push_back(&p);
  for (const PuzzleFit& p : plan.fit.puzzles) {
    if (!p.binds) continue;
    std::vector<const PuzzleFit*> here = {&p};
    here.insert(here.end(), loose.begin(), loose.end());
    add_flowing_pages(sheets.pages, sheets.paper, sheets.area, title_of(plan, here), parts_of(plan, p, loose));
    loose.clear();
  }
  if (loose.empty()) return;
  std::vector<SheetPart> parts;
  add_loose(parts, plan, loose);
  add_flowing_pages(sheets.pages, sheets.paper, sheets.area, title_of(plan, loose), parts);
}

}  // namespace stickwright
