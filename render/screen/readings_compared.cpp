// Two set-ups' readings side by side: what differs, whether that is more than their doubt, which lifts a wheel first.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "render/screen/readings.h"
#include "render/text/words.h"

namespace sidehill {
namespace {

// Smaller than what is shown of it: alike.
bool shows(Quantity quantity, double change) {
  const ShownUnit unit = shown_unit(quantity, Units::si);
  return std::abs(change) * unit.factor >= 0.5 * std::pow(10.0, -unit.digits);
}

Difference one_side(const Reading& reading, bool is_a) {
  Difference d{reading.id, reading.group, reading.name, reading.quantity, {}, {}, {}, {}, "-", "-", {}, {}, 0, false};
  (is_a ? d.a : d.b) = reading.value;
  (is_a ? d.instead_a : d.instead_b) = reading.instead;
  (is_a ? d.note_a : d.note_b) = reading.note;
  return d;
}

}  // namespace

std::vector<Difference> differences(std::span<const Reading> a, std::span<const Reading> b) {
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
        if (one.doubt && other->doubt) {
          d.doubt = std::hypot(*one.doubt, *other->doubt);
          d.within_doubt = std::abs(*d.change) < *d.doubt;
        }
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

std::string which_lifts_first(std::span<const Reading> a, std::span<const Reading> b, const std::string& name_a,
                              const std::string& name_b) {
  const Reading *lift_a = find_reading(a, "first_lift_off"), *lift_b = find_reading(b, "first_lift_off");
  if (!lift_a || !lift_b) return "There is nothing to compare yet.";
  const auto never = [](const Reading& r) { return !r.value && r.instead == "never"; };
  const auto wheel = [](const Reading& r) { return r.note.empty() ? std::string() : " (" + r.note + ")"; };
  if (never(*lift_a) && never(*lift_b)) return "Neither lifts a wheel at its heading, however steep.";
  if ((!lift_a->value && !never(*lift_a)) || (!lift_b->value && !never(*lift_b)))
    return fmt::format("{} has no answer here, so they cannot be compared.",
                       !lift_a->value && !never(*lift_a) ? name_a : name_b);
  const bool a_first = lift_a->value && (!lift_b->value || *lift_a->value < *lift_b->value);
  const Reading &first = a_first ? *lift_a : *lift_b, &other = a_first ? *lift_b : *lift_a;
  const std::string &name_first = a_first ? name_a : name_b, &name_other = a_first ? name_b : name_a;
  if (never(other))
    return fmt::format("{} lifts a wheel at {}{}; {} never does at its heading.", name_first, degrees(first.value),
                       wheel(first), name_other);
  const double gap = *other.value - *first.value;
  if (!shows(Quantity::angle, gap))
    return fmt::format("Both lift a wheel at {}: {}{}, {}{}.", degrees(first.value), name_a, wheel(*lift_a), name_b,
                       wheel(*lift_b));
  std::string words =
      fmt::format("{} lifts a wheel first, at {}{}; {} holds {} longer, to {}{}.", name_first, degrees(first.value),
                  wheel(first), name_other, degrees(gap), degrees(other.value), wheel(other));
  if (first.doubt && other.doubt) {
    const double doubt = std::hypot(*first.doubt, *other.doubt);
    words += gap < doubt ? fmt::format(" That is less than how far off the two may be (± {}).", degrees(doubt))
                         : fmt::format(" That is more than how far off the two may be (± {}).", degrees(doubt));
  }
  return words;
}

}  // namespace sidehill
