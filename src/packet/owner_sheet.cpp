#include <fmt/core.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>
#include <numeric>

#include "packet/owner_year.h"
#include "packet/packet.h"
#include "packet/solid.h"
#include "takeapart/frames.h"

namespace stickwright {
namespace {

constexpr int kPanelsInARow = 3;
constexpr double kLowPanel = 60, kHighPanel = 84;  // mm

// How each piece of a step is drawn: where it stands afterwards, in lattice units / unit. A group that goes out is
// drawn only far enough out to see it go.
struct Drawn {
  std::vector<int> pieces;  // held ones first
  std::vector<Vec> at;
  Vec slide;  // of the first group that moves
};

Drawn drawn_step(const Step& s, const Frame& frame, std::int64_t unit) {
  Drawn d{s.from, {}, {}};
  for (int i : s.from) d.at.push_back(frame.before[i]);
  for (const Glide& g : s.gliding()) {
    const std::int64_t length = std::abs(g.direction.x) + std::abs(g.direction.y) + std::abs(g.direction.z);
    for (int i : g.pieces) {
      d.pieces.push_back(i);
      d.at.push_back(s.distance.free() ? frame.before[i] + unit * (length > 3 ? 2 : 4) * g.direction : frame.after[i]);
      if (g.pieces == s.moves) d.slide = d.at.back() - frame.before[i];
    }
  }
  return d;
}

// The least whole number of times that all places have to be drawn apart for every place to be a shift of the family,
// so that the painting stays exact; the words then say so. Twice any whole vector is a shift.
std::int64_t stretch(const Family& family, const std::vector<Vec>& places, std::int64_t unit) {
  for (std::int64_t times = 1; times < 2 * unit; ++times)
    if (std::all_of(places.begin(), places.end(), [&](Vec v) {
          const Vec w = times * v;
          return w.x % unit == 0 && w.y % unit == 0 && w.z % unit == 0 &&
                 family.is_shift({w.x / unit, w.y / unit, w.z / unit});
        }))
      return times;
  return 2 * unit;
}

// Each piece's number in the key at the top, where the piece can be seen.
void draw_marks(Canvas& canvas, const Family& family, const std::vector<DrawnBody>& bodies,
                const Projection& projection, const std::vector<std::string>& marks) {
  const auto spots = label_spots(family, bodies, projection);
  for (std::size_t i = 0; i < bodies.size(); ++i) {
    if (!spots[i]) continue;
    const Font font = {.points = 6.5, .bold = true, .align = Align::center};
    canvas.disc(*spots[i], 1.7, {.gray = 1}, {.width = 0.25});
    canvas.text(*spots[i] - At{0, 1.42}, marks[i], font);
  }
}

// Pieces in the order of their names, which is the key's: the number of each standing piece in it.
std::vector<int> key_numbers(const PuzzlePlan& p) {
  std::vector<int> by_name(p.design.standing.size()), number(by_name.size());
  std::iota(by_name.begin(), by_name.end(), 0);
  std::sort(by_name.begin(), by_name.end(), [&](int a, int b) {
    const StandingPiece &s = p.design.standing[static_cast<std::size_t>(a)],
                        &t = p.design.standing[static_cast<std::size_t>(b)];
    return std::pair(s.made, s.copy) < std::pair(t.made, t.copy);
  });
  for (std::size_t i = 0; i < by_name.size(); ++i)
    number[static_cast<std::size_t>(by_name[i])] = static_cast<int>(i) + 1;
  return number;
}

std::vector<std::string> marks_of(const PuzzlePlan& p, const std::vector<int>& pieces) {
  const std::vector<int> number = key_numbers(p);
  std::vector<std::string> marks;
  for (int i : pieces) marks.push_back(std::to_string(number[static_cast<std::size_t>(i)]));
  return marks;
}

// The numbers of pieces as a sentence lists them: ascending.
std::string listed(const PuzzlePlan& p, const std::vector<int>& pieces) {
  const std::vector<int> number = key_numbers(p);
  std::vector<int> mine;
  for (int i : pieces) mine.push_back(number[static_cast<std::size_t>(i)]);
  std::sort(mine.begin(), mine.end());
  return fmt::format("{}", fmt::join(mine, ", "));
}

// What else the owner should know: a step that is another one over again, a piece that needs a finger.
std::string remarks(const PuzzlePlan& p, const Handling& h) {
  std::string words;
  if (h.like) words += fmt::format(" Like step {}{}.", *h.like + 1, h.mirrored ? ", mirrored" : "");
  if (!h.falls.empty()) words += fmt::format(" Mind {}: loose, a third hand helps.", listed(p, h.falls));
  return words;
}

std::string hold_and_slide(const PuzzlePlan& p, const Step& s, std::int64_t times) {
  std::string words = fmt::format("Hold {}. Slide {}", listed(p, s.from), listed(p, s.moves));
  for (const Glide& g : s.also) words += fmt::format(", and at the same time {}", listed(p, g.pieces));
  if (s.distance.free()) return words + (s.also.empty() ? " out along the arrow." : " outwards as shown.");
  return words +
         (times == 1 ? " as far as shown." : fmt::format(" as far as shown, which is drawn {} times too far.", times));
}

void draw_step(Canvas& canvas, Box box, const PuzzlePlan& p, std::size_t number, const Frames& frames) {
  const Step& s = p.design.take_apart.steps[number];
  const Family& family = *p.design.design.family;
  const Drawn drawn = drawn_step(s, frames.steps[number], frames.unit);
  const std::int64_t times = stretch(family, drawn.at, frames.unit);
  const auto on_paper = [&](Vec v) {
    const Vec w = times * v;
    return Vec{w.x / frames.unit, w.y / frames.unit, w.z / frames.unit};
  };
  const Vec slide = on_paper(drawn.slide);
  std::vector<DrawnBody> bodies;
  for (std::size_t k = 0; k < drawn.pieces.size(); ++k) {
    const bool held = k < s.from.size();
    bodies.push_back({p.design.standing[drawn.pieces[k]].cells, on_paper(drawn.at[k]), held ? 1 : 0.75,
                      held ? Hatch::none : Hatch::right});
  }
  const Projection projection = fit(family, bodies, {box.x + 3, box.y + 7, box.w - 20, box.h - 20}, 9);
  draw_solids(canvas, family, bodies, projection);
  draw_marks(canvas, family, bodies, projection, marks_of(p, drawn.pieces));
  const At from = projection(Vec{}), to = projection(slide);
  const At corner = {box.x + box.w - 9, box.y + 0.5 * box.h};
  const At way = to - from;
  const double length = std::hypot(way.x, way.y);
  if (length > 0) canvas.arrow(corner - (6 / length) * way, corner + (6 / length) * way, {.width = 0.8});
  canvas.text({box.x + 1, box.y + 0.5}, fmt::format("{}", number + 1), {.points = 15, .bold = true});
  const std::string words = hold_and_slide(p, s, times) + remarks(p, p.design.handling[number]);
  const Font font = {.points = 7.5, .width = box.w - 2};
  canvas.text({box.x + 1, box.y + box.h - 1 - canvas.text_height(words, font)}, words, font);
}

// As many rows of panels as fit, as high as they can be.
struct Panels {
  std::size_t count;
  double height;
};
Panels panels_in(double room, std::size_t steps) {
  const auto wanted = (steps + kPanelsInARow - 1) / kPanelsInARow;
  const auto rows =
      std::clamp<std::size_t>(static_cast<std::size_t>(room / kLowPanel), 1, std::max<std::size_t>(wanted, 1));
  return {std::min(steps, rows * kPanelsInARow), std::min(kHighPanel, room / static_cast<double>(rows))};
}

void draw_steps(Canvas& canvas, Box area, const PuzzlePlan& p, std::size_t first, std::size_t last) {
  const Frames frames = frames_of(*p.design.design.family, p.design.standing_cells(), p.design.take_apart.steps);
  const double height = panels_in(area.h, last - first).height;
  const double w = area.w / kPanelsInARow;
  for (std::size_t k = first; k < last; ++k) {
    const auto i = static_cast<double>((k - first) % kPanelsInARow),
               j = static_cast<double>((k - first) / kPanelsInARow);
    const Box box = {area.x + i * w, area.y + j * height, w - 2, height - 2};
    canvas.box(box, {}, {.width = 0.15, .gray = 0.5});
    draw_step(canvas, box, p, k, frames);
  }
}

constexpr std::size_t kKeyInARow = 8;
constexpr double kKeyHeight = 27;  // mm

// The whole puzzle, then each piece alone as it stands, with its number and name.   returns  the height they take
double draw_pieces(Canvas& canvas, Box area, const FullPlan& plan, const PuzzlePlan& p) {
  const Family& family = *p.design.design.family;
  const std::vector<int> number = key_numbers(p);
  const double w = area.w / static_cast<double>(kKeyInARow);
  std::vector<std::vector<DrawnBody>> pictures(p.design.standing.size() + 1);
  std::vector<std::string> names(pictures.size(), "closed");
  for (std::size_t i = 0; i < number.size(); ++i) {
    const StandingPiece& s = p.design.standing[i];
    const DrawnBody body = {s.cells, {}, 1, hatch_of_wood(plan, p.wood_of[s.made][s.copy].front())};
    const auto at = static_cast<std::size_t>(number[i]);
    pictures[0].push_back(body);
    pictures[at] = {body};
    names[at] = fmt::format("{}: {}", number[i], s.name);
  }
  for (std::size_t i = 0; i < pictures.size(); ++i) {
    const Box box = {area.x + static_cast<double>(i % kKeyInARow) * w,
                     area.y + static_cast<double>(i / kKeyInARow) * kKeyHeight, w, kKeyHeight};
    draw_solids(canvas, family, pictures[i],
                fit(family, pictures[i], {box.x + 2, box.y + 1, w - 4, kKeyHeight - 8}, 5));
    canvas.text({box.x, box.y + kKeyHeight - 6}, names[i],
                {.points = 7.5, .align = Align::center, .width = w - 1, .ellipsis = true});
  }
  return kKeyHeight * static_cast<double>((pictures.size() + kKeyInARow - 1) / kKeyInARow);
}

// Of the year at the customer's; empty where the batch does not say where that is.
std::string about_the_year(const FullPlan& plan, const PuzzlePlan& p) {
  const auto index = static_cast<std::size_t>(&p - plan.batch.puzzles.data());
  for (const PuzzleFit& fit : plan.fit.puzzles)
    if (fit.puzzle == index && fit.year && plan.batch.batch.customer)
      return year_for_the_owner(*fit.year, *plan.batch.batch.customer, plan.fit.asked.window.closes_from);
  return "";
}

// returns  the height it takes
double draw_intro(Canvas& canvas, Box area, const FullPlan& plan, const PuzzlePlan& p) {
  double y = area.y;
  if (p.design.take_apart.steps.empty())
    y += canvas.text({area.x, y}, "One piece: nothing comes apart.", {.points = 8.5}) + 2;
  else
    y += canvas.text(
             {area.x, y},
             "Taking it apart, step by step; to put it together, go from the last picture to the first. Each "
             "picture shows the pieces that are still together, with their numbers where they can be seen: white "
             "ones are held, hatched ones have just been moved. Nothing needs force: when a piece binds, go back "
             "a step.",
             {.points = 8.5, .width = area.w}) +
         2;
  if (const std::string year = about_the_year(plan, p); !year.empty())
    y += canvas.text({area.x, y}, year, {.points = 8.5, .width = area.w}) + 2;
  y += draw_pieces(canvas, {area.x, y, area.w, 0}, plan, p) + 2;
  return y - area.y;
}

}  // namespace

void add_owner_sheets(Sheets& sheets) {
  const FullPlan& plan = sheets.plan;
  for (const PuzzlePlan& p : plan.batch.puzzles) {
    const std::string title = fmt::format("For the owner: {}", p.design.design.name);
    const std::size_t steps = p.design.take_apart.steps.size();
    const double top = draw_intro(sheets.paper, sheets.area, plan, p);
    const double room = sheets.area.h - top;
    const std::size_t first = room < kLowPanel ? 0 : panels_in(room, steps).count;
    sheets.pages.push_back({title,
                            [&plan, &p, top, first](Canvas& canvas, Box area) {
                              draw_intro(canvas, area, plan, p);
                              draw_steps(canvas, {area.x, area.y + top, area.w, area.h - top}, p, 0, first);
                            },
                            false});
    for (std::size_t from = first; from < steps;) {
      const std::size_t to = from + panels_in(sheets.area.h, steps - from).count;
      sheets.pages.push_back({title + ", continued",
                              [&p, from, to](Canvas& canvas, Box area) { draw_steps(canvas, area, p, from, to); },
                              true});
      from = to;
    }
  }
}

}  // namespace stickwright
