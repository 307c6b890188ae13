// svg_shapes.h - the lines and filled shapes of a picture of ours that is written as SVG, in millimeters.
#pragma once
#include <algorithm>
#include <regex>
#include <string>
#include <vector>

#include "packet/canvas.h"

namespace stickwright {

struct SvgShape {
  std::vector<At> points;
  double fill = -1;  // gray, a share; below 0: none
  double width = 0;  // of the line
  bool dashed = false;
  bool is_box() const { return points.size() == 5; }
  double left() const { return points.front().x; }
  double right() const { return points[2].x; }
  double top() const { return points.front().y; }
  double bottom() const { return points[2].y; }
};

// Straight lines and polygons in the order in which they were drawn.
inline std::vector<SvgShape> shapes_of(const std::string& file) {
  const std::string svg = file.substr(std::min(file.size(), file.find("</defs>")));  // behind the letters' shapes
  const std::regex path("<path style=\"([^\"]*)\" d=\"([^\"]*)\"( transform=)?"), point("[ML] ([-0-9.]+) ([-0-9.]+)"),
      gray("fill:rgb\\(([0-9.]+)%"), width("stroke-width:([0-9.]+)");
  std::vector<SvgShape> shapes;
  for (std::sregex_iterator i(svg.begin(), svg.end(), path), end; i != end; ++i) {
    const std::string style = (*i)[1], d = (*i)[2];
    SvgShape s;
    std::smatch m;
    if (std::regex_search(style, m, gray)) s.fill = std::stod(m[1]) / 100;
    if (std::regex_search(style, m, width)) s.width = std::stod(m[1]);
    s.dashed = style.find("stroke-dasharray") != std::string::npos;
    // What has no outline is written in points of paper.
    const double mm = (*i)[3].matched ? 1 : 25.4 / 72;
    for (std::sregex_iterator p(d.begin(), d.end(), point); p != end; ++p)
      s.points.push_back({mm * std::stod((*p)[1]), mm * std::stod((*p)[2])});
    shapes.push_back(std::move(s));
  }
  return shapes;
}

}  // namespace stickwright
