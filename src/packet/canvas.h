// canvas.h - drawing on paper: millimeters, y down, black and grays; text is shaped and its fonts are embedded.
#pragma once
#include <functional>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

namespace stickwright {

struct At {
  double x = 0, y = 0;
  friend At operator+(At a, At b) { return {a.x + b.x, a.y + b.y}; }
  friend At operator-(At a, At b) { return {a.x - b.x, a.y - b.y}; }
  friend At operator*(double k, At a) { return {k * a.x, k * a.y}; }
};
struct Box {
  double x = 0, y = 0, w = 0, h = 0;
};

enum class Align { left, center, right };

struct Font {
  double points = 9;
  bool bold = false;
  Align align = Align::left;
  double width = 0;       // wraps at this many mm; 0: one line
  bool ellipsis = false;  // one line, cut with an ellipsis at `width`
  double gray = 0;
};

struct Pen {
  double width = 0.25;  // mm
  double gray = 0;
  double dash = 0;  // mm; 0: solid
};

// Lines across an area, for what must be told apart without color.
enum class Hatch { none, right, left, cross, level, upright };

struct Ink {
  double gray = -1;  // fill; below 0: none
  Hatch hatch = Hatch::none;
  double hatch_gap = 1.6;
};

enum class Drawing { pdf, svg };

class Canvas {
 public:
  // Draws in memory: a PDF, or one SVG picture. `created` (ISO date) goes into a PDF, so that equal content gives equal
  // bytes. One that is never finished serves for trying how much room a drawing takes.
  Canvas(double width_mm, double height_mm, const std::string& title, const std::string& created,
         Drawing drawing = Drawing::pdf);
  ~Canvas();
  Canvas(const Canvas&) = delete;
  Canvas& operator=(const Canvas&) = delete;

  double width() const { return width_; }
  double height() const { return height_; }
  void bookmark(const std::string& title, int page);  // of a PDF only
  void end_page();
  // Ends the drawing.   returns  its bytes, or nothing and says in `wrong` why
  std::string finish(std::string& wrong);

  void line(At a, At b, Pen pen = {});
  void polyline(const std::vector<At>& points, Pen pen = {});
  void polygon(const std::vector<At>& points, Ink ink, Pen pen = {.width = 0});
  void box(Box b, Ink ink = {}, Pen pen = {});
  void disc(At center, double radius, Ink ink, Pen pen = {.width = 0});
  void arrow(At from, At to, Pen pen = {});
  // Both ends arrowed, the text, if any, on the middle.
  void dimension(At a, At b, const std::string& text, Font font = {.points = 8});
  // Draws inside the box only.
  void clipped(Box b, const std::function<void()>& draw);

  // The text's upper edge is at at.y.   returns  its height in mm
  double text(At at, std::string_view text, Font font = {});
  double text_height(std::string_view text, Font font) const;
  double text_width(std::string_view text, Font font) const;

 private:
  struct Impl;
  std::unique_ptr<Impl> impl_;
  double width_, height_;
};

}  // namespace stickwright
