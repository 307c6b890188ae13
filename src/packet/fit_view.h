// fit_view.h - how snug the puzzles will be, as pictures: many puzzles' play, what makes them differ, the year.
#pragma once
#include <optional>
#include <string>

#include "batch/fit_plan.h"
#include "packet/canvas.h"
#include "packet/picture.h"

namespace stickwright {

// What the picture of the play shows.
struct PlayView {
  PlaySpread planned;
  std::optional<PlaySpread> advised;  // drawn as an outline
  double asked = 0;                   // mm
  PlayWindow window;
};

// `advised` only where the advice changes a size by what can be told on paper.
PlayView play_view(const FitPlan& fit, const PuzzleFit& puzzle);

// How many puzzles have how much play: bars whose areas are shares of the puzzles. Those that do not close are hatched,
// the plays that are asked for have a gray ground, and lines with their names stand at the play asked for, the middle
// puzzle and one puzzle in twenty at either end. A scale in mm below, and one in inches.
void draw_play(Canvas& canvas, Box box, const PlayView& view);

// Sources by their share of the differences between puzzles. A thin line goes on to what a source makes together with
// others.   returns  the height it takes, at most `box.h` where that is room for three bars
double draw_contributions(Canvas& canvas, Box box, const Contributions& contributions);
const char* contributions_key();  // how to read it, in words

// The play of the middle puzzle and of the one in twenty that is tightest, at the ends of the months, with the wood's
// moisture and how many close below; the tightest month is marked.
struct YearView {
  YearFit year;
  PlayWindow window;
};
void draw_year(Canvas& canvas, Box box, const YearView& view);

// The same as files.   errors  cannot_write
Result<std::string> play_drawing(const PictureCaption& caption, const PlayView& view, Drawing drawing);
Result<std::string> contributions_drawing(const PictureCaption& caption, const Contributions& contributions,
                                          Drawing drawing);
Result<std::string> year_drawing(const PictureCaption& caption, const YearView& view, Drawing drawing);

// "0.014 mm (0.0006 in)"
std::string small_length(double mm);

inline constexpr double kLeastTold = 0.001;  // mm: what is smaller rounds to nothing on paper

}  // namespace stickwright
