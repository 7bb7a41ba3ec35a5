// Two set-ups' readings side by side: what differs, whether that is more than their doubt, which gives way first.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "render/screen/desk/readings.h"
#include "render/text/words/words.h"

namespace sidehill::screen {
namespace {

// Smaller than what is shown of it: alike.
bool shows(Quantity quantity, double change) {
  const ShownUnit unit = shown_unit(quantity, Units::si);
  return std::abs(change) * unit.factor >= 0.5 * std::pow(10.0, -unit.digits);
}

Difference one_side(const Reading& reading, bool is_a) {
  Difference d{reading.id, reading.group, reading.name, reading.quantity, {}, {}, {}, {}, "-", "-", {}, {}, {},
               0,          false};
  (is_a ? d.a : d.b) = reading.value;
  (is_a ? d.instead_a : d.instead_b) = reading.instead;
  (is_a ? d.note_a : d.note_b) = reading.note;
  return d;
}

// What goes with this reading in the pair's own differences; none if nothing does.
std::optional<DifferenceOf> as_pair(const SetUpDifference& pair, std::string_view id) {
  if (id == "gives_way") return pair.gives_way;
  if (id == "first_lift_off") return pair.first_lift_off;
  if (id == "margin") return pair.margin;
  if (id == "slide") return pair.slide;
  if (id == "tip_over") return pair.tip_over;
  if (id == "rigid_lift_off") return pair.rigid_lift_off;
  for (std::size_t i = 0; i < kWheels; ++i)
    if (id.starts_with("load_") && id.substr(5) == kWheelWords[i].key) return pair.load[i];
  if (id == "mass") return pair.mass;
  constexpr std::string_view kAxes[] = {"centre_x", "centre_y", "centre_z"};
  for (std::size_t k = 0; k < 3; ++k)
    if (id == kAxes[k]) return pair.centre_of_gravity[k];
  return std::nullopt;
}

// What a tyre carries of what it may: the load's difference over the capacity, if both tyres have the same.
std::optional<DifferenceOf> of_tyre(const SetUpDifference& pair, std::span<const Reading> a, std::span<const Reading> b,
                                    std::string_view id) {
  if (!id.starts_with("tyre_")) return std::nullopt;
  const std::string load = "load_" + std::string(id.substr(5));
  const Reading *used_a = find_reading(a, id), *used_b = find_reading(b, id);
  const Reading *load_a = find_reading(a, load), *load_b = find_reading(b, load);
  for (const Reading* one : {used_a, used_b, load_a, load_b})
    if (!one || !one->value || *one->value == 0) return std::nullopt;
  const double share = *used_a->value / *load_a->value;
  std::optional<DifferenceOf> of = as_pair(pair, load);
  if (!of || std::abs(*used_b->value / *load_b->value - share) > 1e-9 * share) return std::nullopt;
  of->value *= share;
  for (std::optional<double>* side : {&of->low, &of->high})
    if (*side) **side *= share;
  return of;
}

// Where the change lies. Features are left out of the pair's interval, so it goes along with the change that is shown.
void set_interval(Difference& d, const Reading& a, const Reading& b, const SetUpDifference* together,
                  const std::optional<DifferenceOf>& pair) {
  if (!a.doubt || !b.doubt) return;
  if (!a.datum.empty() && !b.datum.empty()) {
    const bool same =
        a.datum_value == b.datum_value && (!a.datum.starts_with("vehicle.") || (together && together->same_machine));
    if (same && *d.change != 0) return;  // the same datum, changed by something else
    // One datum is one unknown, two are two, each by itself.
    d.low = *d.change - (same ? 0 : std::hypot(*b.value - *b.low, *a.high - *a.value));
    d.high = *d.change + (same ? 0 : std::hypot(*b.high - *b.value, *a.value - *a.low));
  } else if (pair) {
    if (pair->low) d.low = *d.change - (pair->value - *pair->low);
    if (pair->high) d.high = *d.change + (*pair->high - pair->value);
  } else {
    return;
  }
  d.interval = true;
  d.within_doubt = (!d.low || *d.low <= 0) && (!d.high || *d.high >= 0);
}

}  // namespace

std::vector<Difference> differences(std::span<const Reading> a, std::span<const Reading> b,
                                    const SetUpDifference* together) {
  std::vector<Difference> all;
  for (const Reading& one : a) {
    Difference d = one_side(one, true);
    if (const Reading* other = find_reading(b, one.id)) {
      d.b = other->value;
      d.instead_b = other->instead;
      d.note_b = other->note;
      // "Never" is better than any slope; what is not known is not better than anything.
      const auto worth = [](const Reading& r) {
        return r.value ? *r.value : r.instead == "never" ? HUGE_VAL : std::nan("");
      };
      const Better better = one.better != Better::unclear ? one.better : other->better;  // an overload of one of them
      const double gain = better == Better::more   ? worth(*other) - worth(one)
                          : better == Better::less ? worth(one) - worth(*other)
                                                   : 0;
      if (d.a && d.b) {
        d.change = *d.b - *d.a;
        std::optional<DifferenceOf> pair = together ? as_pair(*together, d.id) : std::nullopt;
        if (together && !pair) pair = of_tyre(*together, a, b, d.id);
        set_interval(d, one, *other, together, pair);
        if (shows(d.quantity, *d.change)) d.better = gain > 0 ? 1 : gain < 0 ? -1 : 0;
      } else {
        d.better = gain > 0 ? 1 : gain < 0 ? -1 : 0;  // of NaN neither
      }
    }
    all.push_back(std::move(d));
  }
  for (const Reading& one : b)
    if (!find_reading(a, one.id)) all.push_back(one_side(one, false));
  // What only B has goes to its group.
  std::vector<std::string> order;
  for (const Difference& d : all)
    if (std::ranges::find(order, d.group) == order.end()) order.push_back(d.group);
  std::ranges::stable_sort(all, {},
                           [&](const Difference& d) { return std::ranges::find(order, d.group) - order.begin(); });
  return all;
}

std::string which_gives_way_first(std::span<const Reading> a, std::span<const Reading> b, const std::string& name_a,
                                  const std::string& name_b, const SetUpDifference* together) {
  const Reading *way_a = find_reading(a, "gives_way"), *way_b = find_reading(b, "gives_way");
  if (!way_a || !way_b) return "There is nothing to compare yet.";
  const auto never = [](const Reading& r) { return !r.value && r.instead == "never"; };
  const auto kind = [](const Reading& r) { return r.note.empty() ? std::string() : " (" + r.note + ")"; };
  if (never(*way_a) && never(*way_b)) return "Neither gives way at its heading, however steep.";
  if ((!way_a->value && !never(*way_a)) || (!way_b->value && !never(*way_b)))
    return fmt::format("{} has no answer here, so they cannot be compared.",
                       !way_a->value && !never(*way_a) ? name_a : name_b);
  const bool a_first = way_a->value && (!way_b->value || *way_a->value < *way_b->value);
  const Reading &first = a_first ? *way_a : *way_b, &other = a_first ? *way_b : *way_a;
  const std::string &name_first = a_first ? name_a : name_b, &name_other = a_first ? name_b : name_a;
  if (never(other))
    return fmt::format("{} gives way at {}{}; {} never does at its heading.", name_first,
                       degrees_and_percent(first.value), kind(first), name_other);
  const double gap = *other.value - *first.value;
  if (!shows(Quantity::angle, gap))
    return fmt::format("Both give way at {}: {}{}, {}{}.", degrees_and_percent(first.value), name_a, kind(*way_a),
                       name_b, kind(*way_b));
  std::string interval, sure;
  if (together && together->gives_way && !way_a->under_way && !way_b->under_way) {
    const DifferenceOf& pair = *together->gives_way;
    // As far as the later one is ahead; the ends change places where that is A.
    const double sign = a_first ? 1 : -1, off = gap - sign * pair.value;
    std::optional<double> low = a_first ? pair.low : pair.high, high = a_first ? pair.high : pair.low;
    for (std::optional<double>* side : {&low, &high})
      if (*side) **side = sign * **side + off;
    if (low && high) interval = " (" + shown_interval(Quantity::angle, *low, high, Units::si) + ")";
    if (low && !high) sure = " It may be that " + name_other + " never gives way.";
    if (!low || *low <= 0) sure = " It may be the other way round: which gives way first is not certain.";
  }
  const std::string words = fmt::format("{} gives way first, at {}{}; {} holds {} longer{}, to {}{}.{}", name_first,
                                        degrees_and_percent(first.value), kind(first), name_other,
                                        degrees(angle_between_as_shown(*first.value, *other.value)), interval,
                                        degrees_and_percent(other.value), kind(other), sure);
  return words;
}

}  // namespace sidehill::screen
