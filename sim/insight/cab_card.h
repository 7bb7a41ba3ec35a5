// At which slope a machine gives way, for the card in its cab: every height and load of its loader, standing, driven
// over a bump and in a bend. Standing from the answer at rest, moving from runs. Uses every core; the answer does not
// depend on how many there are. Knows no words, no file.
#pragma once
#include <array>
#include <atomic>
#include <cstddef>
#include <optional>
#include <stop_token>
#include <vector>

#include "sim/base/enum_table.h"
#include "sim/scene/scene.h"

namespace sidehill {

// standing: at the worst of all headings. bump: driven slowly across the slope, the uphill wheels over a bump. bend:
// from across the slope downhill and round until it stands across again, then the bend pulls downhill.
enum class CardCase { standing, bump, bend };
inline constexpr std::array kCardCases{
    KeyOf<CardCase>{CardCase::standing, "standing"},
    KeyOf<CardCase>{CardCase::bump, "over_a_bump"},
    KeyOf<CardCase>{CardCase::bend, "in_a_bend"},
};
static_assert(is_whole(kCardCases, &KeyOf<CardCase>::value));

// What gives way, the mildest first.
enum class CardWay { slides, lifts, over };
inline constexpr std::array kCardWays{
    KeyOf<CardWay>{CardWay::slides, "slides"},
    KeyOf<CardWay>{CardWay::lifts, "lifts"},
    KeyOf<CardWay>{CardWay::over, "over"},
};
static_assert(is_whole(kCardWays, &KeyOf<CardWay>::value));

// gives_way: there is a slope. nothing_found: nothing gave way up to the steepest slope tried, which is no promise.
enum class CardAnswer { gives_way, nothing_found, not_known };
inline constexpr std::array kCardAnswers{
    KeyOf<CardAnswer>{CardAnswer::gives_way, "gives_way"},
    KeyOf<CardAnswer>{CardAnswer::nothing_found, "nothing_found"},
    KeyOf<CardAnswer>{CardAnswer::not_known, "not_known"},
};
static_assert(is_whole(kCardAnswers, &KeyOf<CardAnswer>::value));

struct CardCell {
  CardAnswer answer = CardAnswer::not_known;
  double slope = 0;               // at which it gives way, its lower end, >= 0 [rad]; only with CardAnswer::gives_way
  CardWay way = CardWay::lifts;   // only with CardAnswer::gives_way
  std::optional<double> found;    // the middle of it: the answer at rest, or the last slope the runs bear [rad]
  double doubt = 0;               // taken off `found` [rad]
  std::optional<double> heading;  // of standing: the worst [rad]
  bool stopped = false;           // over a bump: it does not get across (a low bucket catches), so nothing is known
  bool as_standing = false;       // moving: the runs bear more than standing across does, so that one counts
};

struct CardRow {
  double pin_height = 0, payload = 0;  // [m], [kg]; without a loader 0
  bool overloaded = false;             // an axle, a tyre or the loader carries more than it may, on the level
  std::size_t lost = 0;                // headings at which no balance was found: the worst may be among them
  std::array<CardCell, 3> cells;       // order of enum CardCase
  const CardCell& at(CardCase what) const { return cells[static_cast<std::size_t>(what)]; }
};

// How the moving cells are driven.
struct CardMotion {
  double bump_height = 0.15;                   // [m]
  double bump_speed = 3 / 3.6;                 // [m/s]
  double bend_speed = 8 / 3.6;                 // [m/s]; that of the job where it has one
  double bend_radius = 8;                      // of the middle of the rear axle [m]
  double steepest = 0.7853981633974483;        // nothing steeper is tried [rad]
  double search_width = 4.363323129985824e-3;  // to which the slope is closed in: 0.25 deg [rad]
};

struct CabCard {
  std::vector<CardRow> rows;  // by height, lowest first, then by load; without a loader one
  bool loader = false;
  bool features_left_out = false;  // the scene's ground is uneven; the card is of an even slope
  CardMotion motion;
};

struct CardPlace {
  std::size_t row = 0;
  CardCase what = CardCase::standing;
};
// The cell with the least whole degrees, of several the one with the worst way, the standing one before the moving
// ones; none where no cell gives way.
std::optional<CardPlace> worst_of(const CabCard& card);
// How many cells are of this kind.
std::size_t cells_with(const CabCard& card, CardAnswer answer);

// A slope in whole degrees, rounded down: never more than the slope; 0 below the level [rad].
int whole_degrees_down(double slope);

// The heights [m] and loads [kg] a card has rows for: lowest, as carried (0.45 m), half up and full up by empty, half
// and all of the rated load, without those that are alike. Empty without a loader.
std::vector<double> card_heights(const Scene& scene);
std::vector<double> card_loads(const Scene& scene);

// The scene as one row has it, on even ground; and the programmes that the moving cells of it are found by. `side`:
// heading across the slope, -90 or +90 deg, at which it gives way sooner [rad].
Scene scene_of_row(const Scene& scene, double pin_height, double payload);
Scene over_a_bump(const Scene& row, const CardMotion& motion, double side);
Scene in_a_bend(const Scene& row, const CardMotion& motion, double side);
double weaker_side(const Scene& row, const std::stop_token& stop = {});
CardMotion card_motion(const Scene& scene);

struct CardProgress {
  std::atomic<int> done{0}, all{0};  // in equal parts of the work, roughly
};

// Standing cells: the lower end of the interval of what gives way first (sim/insight/uncertainty), at the worst of 72
// headings, that of lift-off closed in between. Moving cells: first_failing_slope of the programmes above, less the
// width of the search and the doubt of standing in the same row (of the standing cell, or of the same way across the
// slope where that is more): an estimate, for the runs have no interval of their own; never more than standing across
// the same slope. They may be more than the standing cell: parked facing downhill, only the rear wheels hold. A trailer
// pushes in a bend, which the runs cannot judge: not known. Once `stop` is requested it comes back well within a
// second, and what it gives then means nothing. Throws InputError for an impossible machine.
CabCard cab_card(const Scene& scene, CardProgress* progress = nullptr, const std::stop_token& stop = {});

}  // namespace sidehill
