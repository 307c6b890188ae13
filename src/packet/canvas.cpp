#include "packet/canvas.h"

#include <cairo-pdf.h>
#include <cairo-svg.h>
#include <pango/pangocairo.h>

#include <algorithm>
#include <cmath>

namespace stickwright {
namespace {

constexpr double kPointsPerMm = 72.0 / 25.4;
constexpr const char* kTypeface = "DejaVu Sans";

struct FreeSurface {
  void operator()(cairo_surface_t* s) const { cairo_surface_destroy(s); }
};
struct FreeCairo {
  void operator()(cairo_t* c) const { cairo_destroy(c); }
};
struct FreeLayout {
  void operator()(PangoLayout* l) const { g_object_unref(l); }
};
using Layout = std::unique_ptr<PangoLayout, FreeLayout>;

Layout make_layout(cairo_t* cr, std::string_view text, const Font& font) {
  Layout layout(pango_cairo_create_layout(cr));
  // Paper has no pixels: glyphs stand where the typeface wants them.
  PangoContext* context = pango_layout_get_context(layout.get());
  cairo_font_options_t* options = cairo_font_options_create();
  cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
  cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
  pango_cairo_context_set_font_options(context, options);
  cairo_font_options_destroy(options);
  pango_context_set_round_glyph_positions(context, FALSE);
  PangoFontDescription* description = pango_font_description_from_string(kTypeface);
  // The page is scaled to millimeters, so sizes are given in them as well.
  pango_font_description_set_absolute_size(description, font.points / kPointsPerMm * PANGO_SCALE);
  pango_font_description_set_weight(description, font.bold ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL);
  pango_layout_set_font_description(layout.get(), description);
  pango_font_description_free(description);
  pango_layout_set_text(layout.get(), text.data(), static_cast<int>(text.size()));
  if (font.width > 0) {
    pango_layout_set_width(layout.get(), static_cast<int>(font.width * PANGO_SCALE));
    pango_layout_set_wrap(layout.get(), PANGO_WRAP_WORD_CHAR);
    if (font.ellipsis) {
      pango_layout_set_height(layout.get(), -1);
      pango_layout_set_ellipsize(layout.get(), PANGO_ELLIPSIZE_END);
    }
  }
  pango_layout_set_alignment(layout.get(), font.align == Align::left     ? PANGO_ALIGN_LEFT
                                           : font.align == Align::center ? PANGO_ALIGN_CENTER
                                                                         : PANGO_ALIGN_RIGHT);
  return layout;
}

struct Extent {
  double w, h;
};
Extent extent_of(PangoLayout* layout) {
  int w = 0, h = 0;
  pango_layout_get_size(layout, &w, &h);
  return {static_cast<double>(w) / PANGO_SCALE, static_cast<double>(h) / PANGO_SCALE};
}

void set_pen(cairo_t* cr, const Pen& pen) {
  cairo_set_source_rgb(cr, pen.gray, pen.gray, pen.gray);
  cairo_set_line_width(cr, pen.width);
  const double dash[] = {pen.dash, pen.dash * 0.6};
  cairo_set_dash(cr, dash, pen.dash > 0 ? 2 : 0, 0);
  cairo_set_line_join(cr, CAIRO_LINE_JOIN_ROUND);
  cairo_set_line_cap(cr, CAIRO_LINE_CAP_ROUND);
}

void trace(cairo_t* cr, const std::vector<At>& points) {
  for (std::size_t i = 0; i < points.size(); ++i)
    i == 0 ? cairo_move_to(cr, points[i].x, points[i].y) : cairo_line_to(cr, points[i].x, points[i].y);
}

// Hatch lines lie on one grid over the page, so neighboring areas with the same hatch join without a step.
void hatch_lines(cairo_t* cr, double dx, double dy, double gap) {
  double x1, y1, x2, y2;
  cairo_clip_extents(cr, &x1, &y1, &x2, &y2);
  const double length = std::hypot(dx, dy), nx = -dy / length, ny = dx / length;
  const double corners[] = {nx * x1 + ny * y1, nx * x2 + ny * y1, nx * x1 + ny * y2, nx * x2 + ny * y2};
  const auto [low, high] = std::minmax_element(corners, corners + 4);
  const double reach = std::hypot(x2 - x1, y2 - y1), cx = (x1 + x2) / 2, cy = (y1 + y2) / 2;
  for (double k = std::ceil(*low / gap) * gap; k <= *high; k += gap) {
    const double off = k - (nx * cx + ny * cy);
    const double px = cx + off * nx, py = cy + off * ny;
    cairo_move_to(cr, px - reach * dx / length, py - reach * dy / length);
    cairo_line_to(cr, px + reach * dx / length, py + reach * dy / length);
  }
}

void draw_hatch(cairo_t* cr, const Ink& ink) {
  if (ink.hatch == Hatch::none) return;
  cairo_save(cr);
  cairo_clip_preserve(cr);
  cairo_path_t* outline = cairo_copy_path(cr);
  cairo_new_path(cr);
  if (ink.hatch == Hatch::right || ink.hatch == Hatch::cross) hatch_lines(cr, 1, -1, ink.hatch_gap);
  if (ink.hatch == Hatch::left || ink.hatch == Hatch::cross) hatch_lines(cr, 1, 1, ink.hatch_gap);
  if (ink.hatch == Hatch::level) hatch_lines(cr, 1, 0, ink.hatch_gap);
  if (ink.hatch == Hatch::upright) hatch_lines(cr, 0, 1, ink.hatch_gap);
  set_pen(cr, {.width = 0.15, .gray = 0.25});
  cairo_stroke(cr);
  cairo_append_path(cr, outline);
  cairo_path_destroy(outline);
  cairo_restore(cr);
}

cairo_status_t append_bytes(void* bytes, const unsigned char* data, unsigned int length) {
  static_cast<std::string*>(bytes)->append(reinterpret_cast<const char*>(data), length);
  return CAIRO_STATUS_SUCCESS;
}

void paint_path(cairo_t* cr, const Ink& ink, const Pen& pen) {
  if (ink.gray >= 0) {
    cairo_set_source_rgb(cr, ink.gray, ink.gray, ink.gray);
    cairo_fill_preserve(cr);
  }
  draw_hatch(cr, ink);
  if (pen.width > 0) {
    set_pen(cr, pen);
    cairo_stroke_preserve(cr);
  }
  cairo_new_path(cr);
}

}  // namespace

struct Canvas::Impl {
  std::string bytes;  // outlives the surface, which still writes when it is destroyed
  std::unique_ptr<cairo_surface_t, FreeSurface> surface;
  std::unique_ptr<cairo_t, FreeCairo> cr;
};

Canvas::Canvas(double width_mm, double height_mm, const std::string& title, const std::string& created, Drawing drawing)
    : impl_(std::make_unique<Impl>()), width_(width_mm), height_(height_mm) {
  const auto create =
      drawing == Drawing::pdf ? cairo_pdf_surface_create_for_stream : cairo_svg_surface_create_for_stream;
  impl_->surface.reset(create(append_bytes, &impl_->bytes, width_mm * kPointsPerMm, height_mm * kPointsPerMm));
  if (drawing == Drawing::pdf) {
    cairo_pdf_surface_set_metadata(impl_->surface.get(), CAIRO_PDF_METADATA_TITLE, title.c_str());
    cairo_pdf_surface_set_metadata(impl_->surface.get(), CAIRO_PDF_METADATA_CREATOR, "stickwright");
    cairo_pdf_surface_set_metadata(impl_->surface.get(), CAIRO_PDF_METADATA_CREATE_DATE, created.c_str());
  }
  impl_->cr.reset(cairo_create(impl_->surface.get()));
  cairo_scale(impl_->cr.get(), kPointsPerMm, kPointsPerMm);
}

Canvas::~Canvas() = default;

void Canvas::bookmark(const std::string& title, int page) {
  cairo_pdf_surface_add_outline(impl_->surface.get(), CAIRO_PDF_OUTLINE_ROOT, title.c_str(),
                                ("page=" + std::to_string(page)).c_str(), CAIRO_PDF_OUTLINE_FLAG_OPEN);
}

void Canvas::end_page() {
  cairo_show_page(impl_->cr.get());
}

std::string Canvas::finish(std::string& wrong) {
  const cairo_status_t drawing = cairo_status(impl_->cr.get());
  cairo_surface_finish(impl_->surface.get());
  const cairo_status_t status = drawing != CAIRO_STATUS_SUCCESS ? drawing : cairo_surface_status(impl_->surface.get());
  wrong = status == CAIRO_STATUS_SUCCESS ? "" : cairo_status_to_string(status);
  return wrong.empty() ? std::move(impl_->bytes) : "";
}

void Canvas::line(At a, At b, Pen pen) {
  polyline({a, b}, pen);
}

void Canvas::polyline(const std::vector<At>& points, Pen pen) {
  trace(impl_->cr.get(), points);
  set_pen(impl_->cr.get(), pen);
  cairo_stroke(impl_->cr.get());
}

void Canvas::polygon(const std::vector<At>& points, Ink ink, Pen pen) {
  if (points.size() < 3) return;
  trace(impl_->cr.get(), points);
  cairo_close_path(impl_->cr.get());
  paint_path(impl_->cr.get(), ink, pen);
}

void Canvas::box(Box b, Ink ink, Pen pen) {
  polygon({{b.x, b.y}, {b.x + b.w, b.y}, {b.x + b.w, b.y + b.h}, {b.x, b.y + b.h}}, ink, pen);
}

void Canvas::disc(At center, double radius, Ink ink, Pen pen) {
  cairo_new_path(impl_->cr.get());
  cairo_arc(impl_->cr.get(), center.x, center.y, radius, 0, 2 * M_PI);
  paint_path(impl_->cr.get(), ink, pen);
}

void Canvas::arrow(At from, At to, Pen pen) {
  const At d = to - from;
  const double length = std::hypot(d.x, d.y);
  if (length < 1e-9) return;
  const At u = (1 / length) * d, n = {-u.y, u.x};
  const double head = std::min(2.2, length * 0.6);
  line(from, to - (0.7 * head) * u, pen);
  polygon({to, to - head * u + (0.35 * head) * n, to - head * u - (0.35 * head) * n}, {.gray = pen.gray});
}

void Canvas::dimension(At a, At b, const std::string& label, Font font) {
  const At middle = 0.5 * (a + b);
  arrow(middle, a, {.width = 0.2});
  arrow(middle, b, {.width = 0.2});
  if (label.empty()) return;
  font.align = Align::center;
  const double w = text_width(label, font), h = text_height(label, font);
  box({middle.x - w / 2 - 0.7, middle.y - h / 2, w + 1.4, h}, {.gray = 1}, {.width = 0});
  text({middle.x, middle.y - h / 2}, label, font);
}

void Canvas::clipped(Box b, const std::function<void()>& draw) {
  cairo_save(impl_->cr.get());
  cairo_rectangle(impl_->cr.get(), b.x, b.y, b.w, b.h);
  cairo_clip(impl_->cr.get());
  draw();
  cairo_restore(impl_->cr.get());
}

double Canvas::text(At at, std::string_view words, Font font) {
  cairo_t* cr = impl_->cr.get();
  const Layout layout = make_layout(cr, words, font);
  const Extent e = extent_of(layout.get());
  double x = at.x;
  if (font.width == 0) x -= font.align == Align::center ? e.w / 2 : font.align == Align::right ? e.w : 0;
  cairo_set_source_rgb(cr, font.gray, font.gray, font.gray);
  cairo_move_to(cr, x, at.y);
  pango_cairo_show_layout(cr, layout.get());
  cairo_new_path(cr);
  return e.h;
}

double Canvas::text_height(std::string_view words, Font font) const {
  return extent_of(make_layout(impl_->cr.get(), words, font).get()).h;
}

double Canvas::text_width(std::string_view words, Font font) const {
  font.width = 0;
  return extent_of(make_layout(impl_->cr.get(), words, font).get()).w;
}

}  // namespace stickwright
