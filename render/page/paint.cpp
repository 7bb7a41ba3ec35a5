#include "render/page/paint.h"

#include <cairo-pdf.h>
#include <cairo.h>
#include <fmt/format.h>
#include <pango/pangocairo.h>

#include <algorithm>
#include <cmath>
#include <memory>

#include "render/text/words/line_breaks.h"
#include "sim/base/errors.h"
#include "sim/base/text_file.h"
#include "sim/scene/scene.h"

namespace sidehill::page {
namespace {

struct Release {
  void operator()(cairo_surface_t* surface) const { cairo_surface_destroy(surface); }
  void operator()(cairo_t* cairo) const { cairo_destroy(cairo); }
  void operator()(PangoLayout* layout) const { g_object_unref(layout); }
  void operator()(PangoFontDescription* face) const { pango_font_description_free(face); }
  void operator()(cairo_font_options_t* options) const { cairo_font_options_destroy(options); }
};
template <class T>
using Held = std::unique_ptr<T, Release>;

// Letters where they are, not moved to whole pixels: a chart twice as large is the same chart.
Held<PangoLayout> layout_for(cairo_t* cairo, std::string_view words, double size, bool strong) {
  Held<PangoLayout> layout(pango_cairo_create_layout(cairo));
  Held<cairo_font_options_t> options(cairo_font_options_create());
  cairo_font_options_set_hint_style(options.get(), CAIRO_HINT_STYLE_NONE);
  cairo_font_options_set_hint_metrics(options.get(), CAIRO_HINT_METRICS_OFF);
  cairo_font_options_set_antialias(options.get(), CAIRO_ANTIALIAS_GRAY);
  PangoContext* context = pango_layout_get_context(layout.get());
  pango_cairo_context_set_font_options(context, options.get());
  pango_cairo_context_set_resolution(context, 72);
  pango_context_set_round_glyph_positions(context, FALSE);
  pango_layout_context_changed(layout.get());
  Held<PangoFontDescription> face(pango_font_description_new());
  pango_font_description_set_family(face.get(), "Inter,DejaVu Sans,sans-serif");
  pango_font_description_set_weight(face.get(), strong ? PANGO_WEIGHT_SEMIBOLD : PANGO_WEIGHT_MEDIUM);
  pango_font_description_set_size(face.get(), static_cast<int>(std::lround(size * PANGO_SCALE)));
  pango_layout_set_font_description(layout.get(), face.get());
  pango_layout_set_single_paragraph_mode(layout.get(), TRUE);
  pango_layout_set_text(layout.get(), words.data(), static_cast<int>(words.size()));
  return layout;
}

double width_of(PangoLayout* layout) {
  PangoRectangle logical;
  pango_layout_get_extents(layout, nullptr, &logical);
  return static_cast<double>(logical.width) / PANGO_SCALE;
}

void set_ink(cairo_t* cairo, Colour c) {
  cairo_set_source_rgba(cairo, c.r / 255.0, c.g / 255.0, c.b / 255.0, c.a / 255.0);
}

void set_dash(cairo_t* cairo, Dash dash, double weave) {
  std::vector<double> lengths;
  for (const double length : dash_lengths(dash)) lengths.push_back(length * weave);
  cairo_set_dash(cairo, lengths.data(), static_cast<int>(lengths.size()), 0);
}

void trace(cairo_t* cairo, const PagePath& path) {
  cairo_new_path(cairo);
  for (const PagePoint& p : path.points) cairo_line_to(cairo, p.x, p.y);
  if (path.closed) cairo_close_path(cairo);
}

void draw_pattern(cairo_t* cairo, const PagePath& path) {
  double left = 0, top = 0, right = 0, bottom = 0;
  cairo_path_extents(cairo, &left, &top, &right, &bottom);
  cairo_save(cairo);
  cairo_clip(cairo);
  set_ink(cairo, path.ink);
  if (path.fill == Pattern::hatched) {
    const double apart = 8.5 * path.weave;
    cairo_set_line_width(cairo, 2 * path.weave);
    cairo_set_dash(cairo, nullptr, 0, 0);
    // On one raster over the whole sheet, so that neighbouring pieces fit.
    for (double c = std::floor((left - bottom) / apart) * apart; c < right - top + apart; c += apart) {
      cairo_move_to(cairo, c + bottom, bottom);
      cairo_line_to(cairo, c + top, top);
    }
    cairo_stroke(cairo);
  } else {
    const double apart = 5 * path.weave;
    for (double y = std::floor(top / apart) * apart; y < bottom + apart; y += apart)
      for (double x = std::floor(left / apart) * apart; x < right + apart; x += apart) {
        cairo_new_sub_path(cairo);
        cairo_arc(cairo, x, y, 0.9 * path.weave, 0, 6.2831853071795862);
      }
    cairo_fill(cairo);
  }
  cairo_restore(cairo);
}

void draw(cairo_t* cairo, const PagePath& path) {
  if (path.points.size() < 2) return;
  for (const PagePoint& p : path.points)
    if (!std::isfinite(p.x) || !std::isfinite(p.y)) return;
  if (path.fill != Pattern::none) {
    trace(cairo, path);
    set_ink(cairo, path.paint);
    cairo_fill(cairo);
  }
  if (path.fill == Pattern::hatched || path.fill == Pattern::dotted) {
    trace(cairo, path);
    draw_pattern(cairo, path);
  }
  if (!(path.width > 0)) return;
  trace(cairo, path);
  set_ink(cairo, path.ink);
  set_dash(cairo, path.dash, path.weave);
  cairo_set_line_width(cairo, path.width);
  cairo_stroke(cairo);
}

void draw(cairo_t* cairo, const PageText& text) {
  if (text.words.empty() || !std::isfinite(text.at.x) || !std::isfinite(text.at.y) || !(text.size > 0)) return;
  const Held<PangoLayout> layout = layout_for(cairo, text.words, text.size, text.strong);
  set_ink(cairo, text.ink);
  const double baseline = static_cast<double>(pango_layout_get_baseline(layout.get())) / PANGO_SCALE;
  cairo_move_to(cairo, text.at.x - text.align * width_of(layout.get()), text.at.y - baseline);
  pango_cairo_show_layout(cairo, layout.get());
}

void draw(cairo_t* cairo, const PageSheet& sheet) {
  cairo_set_line_join(cairo, CAIRO_LINE_JOIN_ROUND);
  for (const auto& mark : sheet.marks) std::visit([&](const auto& m) { draw(cairo, m); }, mark);
}

void draw(cairo_t* cairo, const PagePhoto& photo) {
  const auto pixels = static_cast<std::size_t>(photo.pixels_wide) * static_cast<std::size_t>(photo.pixels_high);
  if (photo.pixels_wide <= 0 || photo.pixels_high <= 0 || photo.rgba.size() < 4 * pixels) return;
  Held<cairo_surface_t> surface(cairo_image_surface_create(CAIRO_FORMAT_RGB24, photo.pixels_wide, photo.pixels_high));
  if (cairo_surface_status(surface.get()) != CAIRO_STATUS_SUCCESS) return;
  cairo_surface_flush(surface.get());
  unsigned char* rows = cairo_image_surface_get_data(surface.get());
  const int stride = cairo_image_surface_get_stride(surface.get());
  for (int y = 0; y < photo.pixels_high; ++y) {
    auto* row = reinterpret_cast<std::uint32_t*>(rows + static_cast<std::ptrdiff_t>(y) * stride);
    for (int x = 0; x < photo.pixels_wide; ++x) {
      const std::uint8_t* p =
          &photo.rgba[4 * (static_cast<std::size_t>(y) * static_cast<std::size_t>(photo.pixels_wide) +
                           static_cast<std::size_t>(x))];
      row[x] = std::uint32_t{p[0]} << 16 | std::uint32_t{p[1]} << 8 | p[2];
    }
  }
  cairo_surface_mark_dirty(surface.get());
  cairo_save(cairo);
  cairo_translate(cairo, photo.x, photo.y);
  cairo_scale(cairo, photo.width / photo.pixels_wide, photo.height / photo.pixels_high);
  cairo_set_source_surface(cairo, surface.get(), 0, 0);
  cairo_paint(cairo);
  cairo_restore(cairo);
}

// Light, with a thin edge that a copier without greys still shows; legible below the words, which stay legible on it.
void draw_across(cairo_t* cairo, const PdfPage& page) {
  if (page.across.empty()) return;
  constexpr double kShare = 0.78;  // of the diagonal
  constexpr double kTrial = 60;
  const double diagonal = std::hypot(page.sheet.width, page.sheet.height);
  const double size = kTrial * kShare * diagonal / std::max(text_width(page.across, kTrial, true), 1.0);
  const auto layout = layout_for(cairo, page.across, size, true);
  cairo_save(cairo);
  cairo_translate(cairo, page.sheet.width / 2, page.sheet.height / 2);
  cairo_rotate(cairo, -std::atan2(page.sheet.height, page.sheet.width));
  cairo_move_to(cairo, -text_width(page.across, size, true) / 2, -0.6 * size);
  set_ink(cairo, rgb(0xEFEFEF));
  pango_cairo_show_layout(cairo, layout.get());
  cairo_move_to(cairo, -text_width(page.across, size, true) / 2, -0.6 * size);
  pango_cairo_layout_path(cairo, layout.get());
  set_ink(cairo, rgb(0xBBBBBB));
  cairo_set_line_width(cairo, 0.5);
  cairo_stroke(cairo);
  cairo_restore(cairo);
}

// What cairo writes, gathered in memory: save_text then puts it under its name in one go.
cairo_status_t gather(void* into, const unsigned char* data, unsigned int size) {
  static_cast<std::string*>(into)->append(reinterpret_cast<const char*>(data), size);
  return CAIRO_STATUS_SUCCESS;
}

void check(cairo_status_t status, const std::filesystem::path& path) {
  if (status != CAIRO_STATUS_SUCCESS)
    throw InputError(fmt::format("{}: cannot be drawn: {}", path.string(), cairo_status_to_string(status)));
}

}  // namespace

double text_width(std::string_view words, double size, bool strong) {
  // Measured on a sheet of no size, so that every page and scale agrees.
  const Held<cairo_surface_t> surface(cairo_recording_surface_create(CAIRO_CONTENT_COLOR_ALPHA, nullptr));
  const Held<cairo_t> cairo(cairo_create(surface.get()));
  return width_of(layout_for(cairo.get(), words, size, strong).get());
}

std::vector<std::string> wrapped(std::string_view words, double room, double size, bool strong) {
  return lines_of(words, room, [&](const std::string& line) { return text_width(line, size, strong); });
}

void write_png(const std::filesystem::path& path, const PageSheet& sheet, double scale) {
  const double s = std::clamp(std::isfinite(scale) ? scale : 2.0, 0.25, 8.0);
  const Held<cairo_surface_t> surface(cairo_image_surface_create(CAIRO_FORMAT_RGB24,
                                                                 static_cast<int>(std::lround(sheet.width * s)),
                                                                 static_cast<int>(std::lround(sheet.height * s))));
  check(cairo_surface_status(surface.get()), path);
  const Held<cairo_t> cairo(cairo_create(surface.get()));
  set_ink(cairo.get(), sheet.paper);
  cairo_paint(cairo.get());
  cairo_scale(cairo.get(), s, s);
  draw(cairo.get(), sheet);
  check(cairo_status(cairo.get()), path);
  std::string bytes;
  check(cairo_surface_write_to_png_stream(surface.get(), gather, &bytes), path);
  save_text(path, bytes);
}

void write_pdf(const std::filesystem::path& path, const std::vector<PdfPage>& pages, const std::string& title) {
  std::string bytes;
  {
    const double width = pages.empty() ? 595 : pages[0].sheet.width,
                 height = pages.empty() ? 842 : pages[0].sheet.height;
    const Held<cairo_surface_t> surface(cairo_pdf_surface_create_for_stream(gather, &bytes, width, height));
    check(cairo_surface_status(surface.get()), path);
    cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_TITLE, title.c_str());
    cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_CREATOR, "Sidehill " SIDEHILL_VERSION);
    cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_CREATE_DATE, nullptr);
    const Held<cairo_t> cairo(cairo_create(surface.get()));
    for (const PdfPage& page : pages) {
      cairo_pdf_surface_set_size(surface.get(), page.sheet.width, page.sheet.height);
      for (const PagePhoto& photo : page.photos) draw(cairo.get(), photo);
      draw_across(cairo.get(), page);
      draw(cairo.get(), page.sheet);
      cairo_show_page(cairo.get());
    }
    check(cairo_status(cairo.get()), path);
    cairo_surface_finish(surface.get());
    check(cairo_surface_status(surface.get()), path);
  }
  save_text(path, bytes);
}

}  // namespace sidehill::page
