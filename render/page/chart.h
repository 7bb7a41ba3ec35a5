// A chart as a small plain value, and how it is laid out and written. Knows what an axis is; no physics, no screen.
#pragma once
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "render/namespaces.h"
#include "render/page/sheet.h"
#include "render/text/words/units.h"

namespace sidehill::page {

enum class ChartKind {
  lines,  // series over x
  polar,  // series over a heading: x = heading [deg], 0 up, positive to the left; y = distance from the middle
  bars,   // a row per bar, along y
};

struct ChartAxis {
  std::string name;          // "Slope that lifts a wheel"
  std::string unit;          // "°", "kN", "s"; empty only for a number without dimension
  double low = 0, high = 1;  // in that unit
  double step = 0;           // between its ticks; 0 = round steps as they fit
  int digits = 2;            // of one of its values said in words
};

struct ChartPoint {
  double x = 0;
  std::optional<double> y;  // empty: the line has a gap there
};

struct ChartSeries {
  std::string name;  // stands at the line's end
  std::vector<ChartPoint> points;
  Colour ink = palette::kSteady;
  Dash dash = Dash::solid;
  double width = 2;  // [pt]
};

// A value the whole chart is read against: a line across it, with words.
struct ChartRule {
  double at = 0;  // in y's unit
  std::string name;
};

// A stretch of y that is bad: hatched.
struct ChartBand {
  double low = 0, high = 0;
  std::string name;
};

// A stretch of x where there is no value to draw: hatched grey over the whole height, on a polar chart from a ring to
// the rim. Never drawn as a value.
struct ChartStretch {
  double from = 0, to = 0;  // in x's unit
  std::string name;
};

// Something that happened at x: a numbered flag, explained at the foot.
struct ChartEvent {
  double x = 0;
  std::string words;
  bool grave = false;
};

struct ChartBar {
  std::string name;
  std::optional<double> from, to;               // empty: no bar, the words say why
  std::optional<double> doubt_low, doubt_high;  // where the value may lie; no high end = or more
  std::string words;                            // the value, with its unit
  Pattern fill = Pattern::plain;
  Colour paint = palette::kSteady;  // of the bar; a hatched or dotted one is light with its pattern in this colour
  bool sum = false;                 // a sum of the bars above: drawn strong
};

// On a polar chart: a ray, and a spot on it.
struct ChartRay {
  double heading = 0;        // [deg]
  std::optional<double> at;  // in y's unit
  std::string name;
};

struct Chart {
  ChartKind kind = ChartKind::lines;
  std::string title;
  std::string subtitle;  // machine, ground, what is kept constant
  ChartAxis x, y;
  std::vector<ChartSeries> series;
  std::vector<ChartRule> rules;
  std::vector<ChartBand> bands;
  std::vector<ChartStretch> stretches;
  std::vector<ChartEvent> events;
  std::vector<ChartBar> bars;
  std::vector<ChartRay> rays;
  std::vector<std::string> remarks;  // beside or below the plot, what it says
  std::vector<std::string> limits;   // at the foot: what is left out, how it was found
  std::string caution;               // at the foot, strong
};

// A chart whose words are read in these units: title, subtitle, names, remarks, limits. Its axes stay: a chart with a
// measured axis is made in them.
Chart read_in(Chart chart, Units units);

// The plot alone, without heading and foot: for a report. Its height follows from its content.
PageSheet plot_of(const Chart& chart, double width);

// How the dial of a polar chart is drawn; ordinarily as on the page.
struct DialLook {
  double side = 430;                  // diameter of the rim [pt]
  Colour body = palette::kCard;       // the machine's in the middle
  double weave = 1;                   // of the hatching
  Colour room = rgb(0xD3E3F3);        // from the first rule's ring out to the value
  Colour lost = rgb(0xFBEFEA);        // where the value lies inside the first rule's ring ...
  Colour stripes = palette::kLifted;  // ... and the hatching over it
  Dash ring = Dash::long_dash;        // the first rule's
  double words_at = -22.5;            // heading along which the rings have their numbers [deg]
  bool rim_words = true;              // the outermost ring has its number too
};

// The dial of a polar chart alone, without legend and spots, the machine on its first ray: for a small place, as the
// window has it. As wide and as high as `side`.
PageSheet dial_of(const Chart& chart, const DialLook& look);

// How the rows of a bar chart are laid out in a small place.
struct BarRowsLook {
  double width = 300, row = 27;        // of the sheet, of each row [pt]
  double size = 12, strong_size = 13;  // of the names; of the words and of a sum's name [pt]
  double indent = 0;                   // of the names [pt]
  double base = 12;                    // line of the letters below the row's top [pt]
  double bar_top = 17, bar = 6;        // below the row's top, and its height [pt]
  double weave = 0.7;                  // of the patterns
  Colour trough = palette::kTrough;    // the whole length, behind the bars
  Colour stripes = palette::kCard;     // over a hatched or dotted bar
};

// The bars of a chart alone, for a small place, as the window has it: in each row the name and the words, below them
// the bar, where it may lie and the rules. No scale and no ticks; the words say each value.
PageSheet bar_rows(const Chart& chart, const BarRowsLook& look);

// The whole sheet: heading, plot, remarks, limits, caution. 900 pt wide.
PageSheet sheet_of(const Chart& chart);

// SVG with its text as text; PNG `scale` pixels a point. Same chart, same bytes. Throw InputError if it cannot be
// written.
void write_svg(const std::filesystem::path& path, const Chart& chart);
void write_png(const std::filesystem::path& path, const Chart& chart, double scale = 2);

// Round steps for an axis: 1, 2 or 5 times a power of ten, at most `most` of them. Positive for any finite span.
double tick_step(double span, int most);

}  // namespace sidehill::page
