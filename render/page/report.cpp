#include "render/page/report.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "render/page/answer_charts.h"
#include "render/page/paper.h"
#include "render/page/provenance.h"
#include "render/page/signing/parts.h"
#include "render/text/job/job_slope_words.h"
#include "render/text/job/report_words.h"
#include "render/text/rest/answer_table.h"
#include "render/text/rest/doubt_report.h"
#include "render/text/rest/manoeuvre_report.h"
#include "render/text/rest/masses_report.h"
#include "render/text/rest/verdict_report.h"
#include "render/text/rest/warnings.h"
#include "render/text/words/ground_words.h"
#include "render/text/words/words.h"
#include "sim/base/constants.h"
#include "sim/base/plain_number.h"
#include "vehicles/liquid.h"
#include "vehicles/loader_tool.h"

namespace sidehill::page {
namespace {

using Rows = std::vector<std::vector<std::string>>;

std::string mass_words(double mass, Units units) { return shown(Quantity::mass, mass, units); }
std::string length_words(double length, Units units) { return shown(Quantity::length, length, units); }

// Where a value lies, with so many digits of its SI unit, without the unit.
std::string range(const Interval& i, Quantity quantity, int digits_si, Units units) {
  const double factor = shown_unit(quantity, units).factor;
  const int digits = read_digits(quantity, digits_si, units);
  if (!std::isfinite(i.low) || (!i.open && !std::isfinite(i.high))) return "-";
  const auto fixed = [&](double value) { return number_in(value * factor, digits, units); };
  return i.open ? fixed(i.low) + " or more" : fixed(i.low) + " to " + fixed(i.high);
}

Rows machine_rows(const Answer& answer, Units units) {
  const Vehicle& v = answer.scene.vehicle;
  const auto tyre = [units](const Axle& axle) {
    return fmt::format("{}{}, {}, track {}", axle.tyre.size, axle.dual_spacing > 0 ? " dual" : "",
                       measured(Quantity::pressure, axle.tyre.pressure, 0, units), length_words(axle.track, units));
  };
  const ShownUnit mass = shown_unit(Quantity::mass, units), power = shown_unit(Quantity::power, units);
  const char* frame = v.frame.kind == FrameKind::cab    ? "cab"
                      : v.frame.kind == FrameKind::none ? "NONE"
                      : v.frame.folded                  ? "two-post, FOLDED DOWN: protects nobody"
                                                        : "two-post, up";
  return {
      {"Machine", read_in(v.name, units)},
      {"Engine",
       fmt::format("{}; {:.0f} {} of machine and load for each {}", measured(Quantity::power, v.engine_power, 0, units),
                   v.engine_power > 0 ? total_mass(answer.model) * mass.factor / (v.engine_power * power.factor) : 0.0,
                   mass.name, power.name)},
      {"Wheelbase", length_words(v.wheelbase, units)},
      {"Front tyres", tyre(v.front)},
      {"Rear tyres", tyre(v.rear)},
      {"Frame", frame},
      {"Driver", v.driver.on_seat ? fmt::format("{} on the seat{}", mass_words(v.driver.mass, units),
                                                v.driver.belted ? ", belted" : ", NOT BELTED")
                                  : "nobody on"},
      {"Total mass", mass_words(total_mass(answer.model), units)},
      {"Its file says", v.note.empty() ? "not what was measured and what was estimated" : read_in(v.note, units)}};
}

std::string filling(const Answer& answer, int left, Units units) {
  const TyreFill &a = answer.scene.ballast.fill[static_cast<std::size_t>(left)],
                 &b = answer.scene.ballast.fill[static_cast<std::size_t>(left) + 1];
  const auto one = [&answer, units](const TyreFill& fill) {
    const Mix mix{fill.medium, fill.concentration, &answer.scene.ballast.own_medium};
    return fill.fill_fraction > 0 ? fmt::format("{} {}", read_in(medium_name(mix), units), percent(fill.fill_fraction))
                                  : std::string("air");
  };
  const double mass = fill_mass(answer.model, is_front(left));
  std::string words = one(a) == one(b) ? one(a) : "left " + one(a) + ", right " + one(b);
  if (mass > 0) words = mass_words(mass, units) + ": " + words;
  return words;
}

Rows ballast_rows(const Answer& answer, Units units) {
  const BallastPlan& b = answer.scene.ballast;
  Rows rows = {{"Front tyres filled", filling(answer, kFrontLeft, units)},
               {"Rear tyres filled", filling(answer, kRearLeft, units)}};
  if (b.front_weights > 0) rows.push_back({"Front weights", mass_words(b.front_weights, units)});
  if (b.rear_weights > 0) rows.push_back({"Rear weights", mass_words(b.rear_weights, units)});
  if (b.front_wheel_weights > 0)
    rows.push_back({"Front wheel weights", mass_words(b.front_wheel_weights, units) + " each"});
  if (b.rear_wheel_weights > 0)
    rows.push_back({"Rear wheel weights", mass_words(b.rear_wheel_weights, units) + " each"});
  if (b.implement.mass > 0) rows.push_back({"Implement", mass_words(b.implement.mass, units) + ", mounted"});
  if (b.trailer.mass > 0)
    rows.push_back({"Trailer", fmt::format("{}, {} on the hitch", mass_words(b.trailer.mass, units),
                                           mass_words(b.trailer.drawbar_load, units))});
  for (const PointMass& mass : b.point_masses) rows.push_back({mass.name, mass_words(mass.mass, units)});
  const Vehicle& v = answer.scene.vehicle;
  if (!v.loader.fitted) {
    rows.push_back({"Loader", "none"});
  } else {
    rows.push_back({"Loader", fmt::format("bucket pin at {}, of at most {}", length_words(b.loader_pin_height, units),
                                          length_words(v.loader.max_pin_height, units))});
    rows.push_back({capital(load_words(b)), fmt::format("{} of {} rated", mass_words(loader_load(b), units),
                                                        mass_words(v.loader.rated_payload, units))});
    if (b.hanging_mass > 0)
      rows.push_back({"On a rope from it", fmt::format("{}, {} long", mass_words(b.hanging_mass, units),
                                                       length_words(b.hanging_rope, units))});
  }
  return rows;
}

Rows ground_rows(const Answer& answer, Units units) {
  const Terrain& t = answer.scene.terrain;
  Rows rows = {{"Ground", fmt::format("{}, {}", t.soil.name, grip_words(t.soil))},
               {"Slope", degrees_and_percent(t.slope)},
               {"Heading", fmt::format("{}, {}", signed_degrees(answer.scene.start.heading),
                                       heading_words(answer.scene.start.heading))}};
  // One by hand need not have a name: what it is decides. A page holds so many; the scene holds all.
  constexpr std::size_t kMostNamed = 6;
  std::string features;
  for (std::size_t i = 0; i < std::min(t.features.size(), kMostNamed); ++i)
    features += (i > 0 ? "; " : "") + feature_sentence(t.features[i]);
  if (t.features.size() > kMostNamed) features += fmt::format("; and {} more", t.features.size() - kMostNamed);
  rows.push_back({"Uneven by", t.features.empty() ? "nothing: an even slope" : read_in(features, units)});
  return rows;
}

std::string used(const LoadMargin& m, bool known) {
  if (!known) return "not known";
  if (!(m.capacity > 0)) return "too fast for it";
  return used_words(m.used);
}

// Of a load, the mass that weighs so much.
Interval in_mass(Interval load, double gravity) {
  load.low /= gravity;
  load.high /= gravity;
  return load;
}

void add_loads(Paper& paper, const Answer& answer, Units units) {
  const double slope = answer.scene.terrain.slope, gravity = answer.scene.settings.gravity;
  if (answer.statics.rest) paper.need(Paper::kHeading + 8 * Paper::kLine);  // the table in one piece
  paper.heading(fmt::format("Loads {}, square to the ground, and what may be carried",
                            slope == 0 ? "on the level" : "on this slope"));
  if (!answer.statics.rest) {
    paper.paragraph(answer.statics.status == RestStatus::unsolved ? "Not known: no balance was found on this ground."
                                                                  : "None: it does not rest here.",
                    true);
    return;
  }
  const auto& load = answer.statics.rest->load;
  const double all = load[0] + load[1] + load[2] + load[3];
  Rows rows = {{"Wheel", "load", fmt::format("may lie between [{}]", shown_unit(Quantity::mass, units).name), "of all",
                "tyre", "may carry", "used"}};
  for (int w = 0; w < kWheels; ++w) {
    const auto i = static_cast<std::size_t>(w);
    std::string mark = axle_of(answer.scene.vehicle, w).tyre.size, capacity = "-", share = "-";
    if (answer.loads) {
      const TyreCheck& check = answer.loads->tyres[i];
      if (check.service)
        mark = fmt::format("{}{}{}{}", check.service->load_index, check.service->speed_symbol,
                           check.rating == Rating::typical ? "*" : "", check.multiple.factor > 1 ? "+" : "");
      capacity = check.service ? mass_words(check.margin.capacity, units) : "not known";
      share = used(check.margin, check.service.has_value());
    }
    rows.push_back(
        {wheel_name(w), mass_words(load[i] / gravity, units),
         answer.uncertainty ? range(in_mass(answer.uncertainty->load[i], gravity), Quantity::mass, 0, units) : "-",
         percent(all > 0 ? load[i] / all : 0), mark, capacity, share});
  }
  for (std::size_t axle = 0; axle < 2; ++axle) {
    const double sum = load[2 * axle] + load[2 * axle + 1];
    const LoadMargin* m = answer.loads ? &answer.loads->axles[axle] : nullptr;
    const bool known = m && m->capacity > 0;
    rows.push_back({axle == 0 ? "front axle" : "rear axle", mass_words(sum / gravity, units), "",
                    percent(all > 0 ? sum / all : 0), "",
                    known ? mass_words(m->capacity, units) : "maker's limit not given", known ? used(*m, true) : "-"});
  }
  paper.table({{0}, {130, 1}, {225, 1}, {270, 1}, {290}, {430, 1}, {515, 1}}, rows);
  if (!answer.loads) return;
  std::string how =
      "May carry: by the load index, the tyre's pressure (rule of thumb) and the fastest speed asked for. * = typical "
      "of the "
      "size: read the sidewall. Never a figure to sign without the maker's table.";
  std::vector<std::string> said;
  for (const TyreCheck& check : answer.loads->tyres)
    if (const std::string words = rating_words(check);
        !words.empty() && std::find(said.begin(), said.end(), words) == said.end()) {
      said.push_back(words);
      how += fmt::format(" {}{}: {}.", check.service->load_index, check.service->speed_symbol, read_in(words, units));
    }
  paper.paragraph(how, false, 0, paper.room(), 7.5);
}

// "and, under way, in a bend of 8 m at 20 km/h and braking with 3.0 m/s2, ".
std::string under_way_asked(const Manoeuvre& asked) {
  std::string words;
  if (asked.turn_radius > 0)
    words = fmt::format("in a bend of {:.3g} m at {:.3g} km/h", asked.turn_radius, asked.speed * 3.6);
  if (asked.braking > 0) words += (words.empty() ? "" : " and ") + manoeuvre_words(ManoeuvreKind::braking, asked);
  return words.empty() ? words : "and " + words + ", ";
}

void add_under_way(Paper& paper, const Answer& answer, Units units) {
  const auto rows = manoeuvre_rows(answer, units);
  if (rows.empty()) return;
  paper.need(Paper::kHeading + Paper::kLine * static_cast<double>(rows.size() + 2));
  paper.heading(fmt::format("{}, {}", kUnderWayTitle, read_in(asked_manoeuvres(answer.scene.manoeuvre), units)));
  paper.table({{0}, {190, 1}, {270, 1}, {350, 1}, {515, 1}}, rows);
  paper.paragraph(kUnderWayLimits, false, 0, paper.room(), 7.5);
}

void add_gravity(Paper& paper, const Answer& answer, Units units) {
  paper.heading("Centre of gravity of everything");
  const Vec3 c = centre_of_gravity_at_rest(answer.model, answer.statics);
  Rows rows = {{"", "ahead of the rear axle", "to the left", "above the ground"}};
  const bool rests = answer.statics.rest.has_value();
  rows.push_back({rests ? "as it stands here" : "on level ground", length_words(c.x, units), length_words(c.y, units),
                  length_words(c.z, units)});
  if (answer.uncertainty) {
    const auto& u = answer.uncertainty->centre_of_gravity;
    const auto lies = [units](const Interval& i, Quantity quantity, int digits) {
      return range(i, quantity, digits, units) + " " + std::string(shown_unit(quantity, units).name);
    };
    rows.push_back({"on level ground it lies between", lies(u[0], Quantity::length, 2), lies(u[1], Quantity::length, 2),
                    lies(u[2], Quantity::length, 2)});
    rows.push_back({"total mass lies between", lies(answer.uncertainty->mass, Quantity::mass, 0), "", ""});
  }
  paper.table({{0}, {270, 1}, {385, 1}, {515, 1}}, rows);
}

// Breakdown on the left, what is not known on the right.
void add_reasons(Paper& paper, const Answer& answer, Units units) {
  paper.need(190);
  const double top = paper.y();
  constexpr double kHalf = 180, kRight = 198;
  const bool even = answer.scene.terrain.features.empty();
  paper.heading(even ? "Why the first wheel lifts there" : "Why, were the slope even");
  if (answer.breakdown) {
    const Breakdown& b = *answer.breakdown;
    const auto change = [](double share) { return (share > 0 ? "+" : "") + degrees(share, 2); };
    Rows rows = {{"cause, on an even slope", "slope"},
                 {"the bare machine on rigid tyres", degrees_and_percent(b.bare, 2)}};
    for (const Cause& cause : b.causes) rows.push_back({cause.name, change(cause.share)});
    rows.push_back({"first wheel lifts", degrees_and_percent(b.whole, 2)});
    if (even) {  // with features nothing is left over of an even slope
      rows.push_back({"the slope takes", change(-answer.scene.terrain.slope)});
      rows.push_back({"left", degrees(b.whole - answer.scene.terrain.slope, 2)});
    }
    paper.table({{0}, {kHalf, 1}}, rows);
  } else {
    paper.paragraph("No shares: not worked out, or with some of the causes no wheel ever lifts.", false, 0, kHalf);
  }
  const double foot = paper.y();
  paper.go_to(top);
  paper.heading("What is not known exactly", kRight);
  if (answer.uncertainty) {
    Rows rows = {{"datum", "known to", "moves lift-off by"}};
    for (const Doubt& doubt : answer.uncertainty->doubts) {
      if (rows.size() > 8 || std::max(-doubt.low, doubt.high) < 0.005 * kDegree) break;
      const auto [tolerance, unit] = tolerance_words(doubt, units);
      rows.push_back({datum_words(doubt.key, answer.scene.ballast),
                      doubt.tolerance > 0 ? fmt::format("±{} {}", tolerance, unit) : "-",
                      fmt::format("{} +{}", degrees(doubt.low, 2), degrees(doubt.high, 2))});
    }
    paper.table({{0}, {240, 1}, {317, 1}}, rows, true, kRight);
    paper.paragraph(
        "Two standard deviations either way. Where neither the scene nor its machine file says, our estimate of what a "
        "tape "
        "measure, a weighbridge or a gauge gives.",
        false, kRight, 317, 7.5);
  } else {
    paper.paragraph("Not worked out.", false, kRight, 317);
  }
  paper.go_to(std::max(foot, paper.y()));
}

std::string foot_words(const Scene& scene, Units units) {
  std::string limits = read_in(answer_limits_words(holds_liquid(scene.ballast)), units);
  std::replace(limits.begin(), limits.end(), '\n', ' ');
  return limits +
         " Intervals, where given, are of the even slope and hold nineteen times in twenty. This page repeats a "
         "calculation: it is no test, no approval and no leave to work on a slope.";
}

std::vector<std::string> all_cautions(const Answer& answer, Units units) {
  std::vector<std::string> all = warnings(answer);
  all.insert(all.end(), answer.model.cautions.begin(), answer.model.cautions.end());
  all.emplace_back(kCautionLine);
  for (std::string& caution : all) caution = read_in(caution, units);
  return all;
}

double height_of(const Paper& paper, const std::vector<std::string>& cautions) {
  double height = Paper::kHeading;
  for (const std::string& caution : cautions) height += Paper::tall(caution, paper.room() - 10);
  return height;
}

void add_cautions(Paper& paper, const Answer& answer, Units units) {
  const std::vector<std::string> all = all_cautions(answer, units);
  paper.need(height_of(paper, all));  // who turns the page must not miss half of them
  paper.heading("Cautions");
  for (const std::string& caution : all) {
    paper.need(Paper::tall(caution, paper.room() - 10));  // each in one piece
    add_text(paper.sheet(), Paper::kMargin, paper.y() + Paper::kLine, "!", Paper::kText, palette::kInk, true);
    paper.paragraph(caution, false, 10, paper.room() - 10);
  }
}

double height_of_limits(const Paper& paper, const Scene& scene, Units units) {
  return Paper::kHeading + Paper::tall(foot_words(scene, units), paper.room());
}

void add_limits(Paper& paper, const Scene& scene, Units units) {
  paper.need(height_of_limits(paper, scene, units));
  paper.heading("Limits of this answer");
  paper.paragraph(foot_words(scene, units));
}

}  // namespace

std::vector<PdfPage> report_pages(const Answer& answer, const ReportPicture& picture, Units units, PaperSize size,
                                  const ReportFacts* given) {
  const Scene& scene = answer.scene;
  const ReportFacts facts = given ? *given : report_facts(answer, false);
  std::vector<std::string> bars = bar_words(answer, facts);
  for (std::string& bar : bars) bar = read_in(bar, units);
  Paper paper(size);
  add_text(paper.sheet(), Paper::kMargin, 56, "Stability check", 18, palette::kInk, true);
  add_text(paper.sheet(), paper.width() - Paper::kMargin, 50, "Sidehill " SIDEHILL_VERSION, 8.5, palette::kInkSoft,
           false, 1);
  add_text(paper.sheet(), paper.width() - Paper::kMargin, 61, "scene " + scene_hash(scene), 8.5, palette::kInkSoft,
           false, 1);
  paper.go_to(62);
  if (!scene.title.empty())
    paper.paragraph(read_in(scene.title + (scene.note.empty() ? "" : ". " + scene.note), units));
  add_record(paper, scene.record, read_in(scene.vehicle.name, units));
  if (!bars.empty()) add_bars(paper, bars);
  paper.skip(4);
  for (const std::string& words : plan_cautions(scene)) paper.paragraph(words, true);
  paper.paragraph(
      fmt::format("Asked: standing still {}at a slope of {}, {}: what does each wheel carry, what gives way "
                  "first, and how much slope is left?",
                  read_in(under_way_asked(scene.manoeuvre), units), degrees_and_percent(scene.terrain.slope),
                  heading_words(scene.start.heading)));
  paper.paragraph(verdict_words(answer, units), true, 0, paper.room(), 10.5);
  const StandVerdict verdict = verdict_on(answer);
  for (const std::string& line :
       {without_implement(scene, !facts.rules.rules.empty()), facts.run ? std::string() : at_rest_only(scene),
        ways_sentence(verdict), turned_sentence(answer.by_heading, answer.statics, scene.terrain.slope),
        ratings_sentence(verdict)})
    if (!line.empty()) paper.paragraph(read_in(line, units));
  if (facts.job_slope) paper.paragraph(read_in(job_slope_words(*facts.job_slope), units));

  const double top = paper.y();
  const bool pictured =
      picture.width > 0 && picture.height > 0 &&
      picture.rgba.size() >= 4 * static_cast<std::size_t>(picture.width) * static_cast<std::size_t>(picture.height);
  constexpr double kPicture = 245;
  const double column = pictured ? paper.room() - kPicture - 15 : paper.room();
  double picture_foot = top;
  if (pictured) {
    const double height = std::min(kPicture * picture.height / picture.width, 220.0);
    const double width = height * picture.width / picture.height;
    paper.page_now().photos.push_back(
        {paper.width() - Paper::kMargin - width, top + 14, width, height, picture.width, picture.height, picture.rgba});
    add_rectangle(paper.sheet(), paper.width() - Paper::kMargin - width, top + 14, width, height, Pattern::none,
                  palette::kCard, palette::kInkSoft, 0.5);
    double line = top + 24 + height;
    const std::string words = answer.statics.rest && picture.drawn.empty()
                                  ? "As computed: disc = centre of gravity, arrows = wheel loads."
                                  : picture.drawn;
    for (const std::string& part : wrapped(words, width, 7.5)) {
      add_text(paper.sheet(), paper.width() - Paper::kMargin - width, line, part, 7.5, palette::kInkSoft);
      line += 10;
    }
    picture_foot = line - 8;
  }
  // Label and words; what does not fit runs on below itself.
  const auto block = [&](const char* name, const Rows& rows, double left, double room) {
    paper.heading(name, left);
    for (const auto& row : rows) {
      add_text(paper.sheet(), Paper::kMargin + left, paper.y() + Paper::kText * 1.4, row[0], Paper::kText,
               palette::kInkSoft);
      paper.paragraph(row[1], false, left + 84, room - 84);
    }
  };
  block("Machine", machine_rows(answer, units), 0, column);
  block("Ballast and loader", ballast_rows(answer, units), 0, column);
  const double foot = paper.y();
  if (pictured) paper.go_to(picture_foot);  // the ground stands below the picture
  block("Ground", ground_rows(answer, units), pictured ? column + 15 : 0, pictured ? kPicture : column);
  paper.go_to(std::max(paper.y(), foot));
  if (bars.empty()) add_bars(paper, bars);  // good news stands below the verdict
  add_moving(paper, moving_words(answer, facts), units);
  add_under_way(paper, answer, units);
  add_loads(paper, answer, units);
  add_gravity(paper, answer, units);
  // What breaks over pages fills the room that a chart would leave.
  bool rules_due = true, loader_due = true;
  const auto make_room = [&](double height) {
    if (paper.left() >= height) return;
    if (loader_due) add_loader_table(paper, facts, scene, units), loader_due = false;
    if (paper.left() >= height) return;
    if (rules_due) add_rules(paper, facts, scene, units), rules_due = false;
  };
  constexpr double kSlopesScale = 0.62, kHeadingScale = 0.47, kAround = 40;
  const PageSheet slopes = plot_of(read_in(slopes_chart(answer), units), 720);
  make_room(slopes.height * kSlopesScale + kAround);
  paper.need(slopes.height * kSlopesScale + kAround - 4);
  paper.heading("What gives way, and at which slope");
  paper.skip(4);
  paper.piece(slopes, kSlopesScale);
  const PageSheet headings = plot_of(read_in(heading_chart(answer), units), 780);
  make_room(headings.height * kHeadingScale + 46);
  paper.need(headings.height * kHeadingScale + 46);
  paper.heading("By heading");
  paper.piece(headings, kHeadingScale);
  if (loader_due) add_loader_table(paper, facts, scene, units);
  if (rules_due) add_rules(paper, facts, scene, units);
  add_reasons(paper, answer, units);
  add_cautions(paper, answer, units);
  // Who signs sees the limits of what is signed.
  paper.need(height_of_limits(paper, scene, units) + height_of_signature(paper, !bars.empty()));
  add_limits(paper, scene, units);
  add_signature(paper, scene.record, !bars.empty());
  add_inputs(paper, scene, units);
  std::vector<PdfPage> pages = paper.finish(kCautionLine, made_by(scene));
  if (!bars.empty())
    for (PdfPage& page : pages) page.across = kNotToBeSigned;
  return pages;
}

void write_report(const std::filesystem::path& path, const Answer& answer, const ReportPicture& picture, Units units,
                  PaperSize size, const ReportFacts* facts) {
  write_pdf(path, report_pages(answer, picture, units, size, facts),
            answer.scene.title.empty() ? "Stability check" : "Stability check: " + answer.scene.title);
}

}  // namespace sidehill::page
