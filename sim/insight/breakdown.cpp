#include "sim/insight/breakdown.h"

#include <algorithm>
#include <cmath>
#include <cstdint>

#include "sim/rest/statics.h"

namespace sidehill {
namespace {

constexpr std::size_t kMostCauses = 9;  // 2^9 answers

struct Player {
  std::string name;
  std::vector<std::size_t> lines;  // of the ledger; empty = no mass
  double mass = 0;
  bool tyres = false, tracks = false, side_give = false, lean = false;
  bool ice = false;  // turned with its wheel to where it harms most; without it, left at the bottom
};

std::string cause_of(const LedgerLine& line, const LoaderModel& loader) {
  const bool front = line.body == LedgerBody::front_left || line.body == LedgerBody::front_right;
  switch (line.item) {
    case LedgerItem::machine:
      return {};
    case LedgerItem::driver:
      return "driver";
    case LedgerItem::tank:
      return "what is in the tank";
    case LedgerItem::fill:
      return front ? "filling of the front tyres" : "filling of the rear tyres";
    case LedgerItem::front_weights:
      return "front weights";
    case LedgerItem::rear_weights:
      return "rear weights";
    case LedgerItem::wheel_weights:
      return front ? "front wheel weights" : "rear wheel weights";
    case LedgerItem::loader:
      return "loader, empty";
    case LedgerItem::payload:
      return loader.carries;
    case LedgerItem::added:
      return line.name;
  }
  return {};
}

std::vector<Player> players_of(const Model& model) {
  std::vector<Player> players;
  for (std::size_t i = 0; i < model.ledger.size(); ++i) {
    const std::string name = cause_of(model.ledger[i], model.loader);
    if (name.empty()) continue;
    auto at = std::ranges::find(players, name, &Player::name);
    if (at == players.end()) at = players.insert(players.end(), Player{.name = name, .lines = {}});
    at->lines.push_back(i);
    at->mass += model.ledger[i].props.mass;
  }
  std::ranges::stable_sort(players, std::ranges::greater{}, &Player::mass);
  const auto any = [&](auto of_tyre) {
    return std::ranges::any_of(model.wheels, [&](const WheelModel& w) { return of_tyre(w.tyre); });
  };
  const bool give = any([](const TyreLaw& t) { return !t.rigid || !t.laterally_rigid; });
  const bool side = any([](const TyreLaw& t) { return !t.laterally_rigid && t.side_give_share > 0; });
  const bool lean = any([](const TyreLaw& t) { return t.pressure_offset > 0; });
  const bool wide = model.track_to_spare[0] > 0 || model.track_to_spare[1] > 0;
  const bool iced = std::ranges::any_of(model.wheels, &WheelModel::ice);
  std::size_t most = kMostCauses - (give ? 1 : 0) - (wide ? 1 : 0) - (side ? 1 : 0) - (lean ? 1 : 0);
  if (iced) --most;
  while (players.size() > most) {
    Player& into = players[most - 1];
    into.name = "the rest";
    into.lines.insert(into.lines.end(), players.back().lines.begin(), players.back().lines.end());
    players.pop_back();
  }
  if (give) players.push_back({.name = "tyres that give", .lines = {}, .tyres = true});
  if (side) players.push_back({.name = "load left behind as the tyres bend sideways", .lines = {}, .side_give = true});
  if (lean) players.push_back({.name = "load at the downhill edge of leaning tyres", .lines = {}, .lean = true});
  if (wide) players.push_back({.name = "tracks wider than their narrowest", .lines = {}, .tracks = true});
  if (iced) players.push_back({.name = "ice turned to where it harms most", .lines = {}, .ice = true});
  return players;
}

}  // namespace

std::optional<Breakdown> breakdown(const Model& model, const std::stop_token& stop) {
  Model even = model;
  even.terrain.features.clear();
  const std::vector<Player> players = players_of(even);
  const std::size_t n = players.size(), subsets = std::size_t{1} << n;
  std::vector<double> value(subsets);
  const Model rigid = on_rigid_tyres(even);
  for (std::size_t set = 0; set < subsets; ++set) {
    std::vector<bool> out(even.ledger.size(), false);
    bool give = false, wide = false, side = false, lean = false;
    bool turned = false;
    for (std::size_t p = 0; p < n; ++p) {
      const bool in = (set >> p & 1) != 0;
      if (players[p].tyres) give = in;
      if (players[p].tracks) wide = in;
      if (players[p].side_give) side = in;
      if (players[p].lean) lean = in;
      if (players[p].ice) turned = in;
      if (!in)
        for (std::size_t line : players[p].lines) out[line] = true;
    }
    std::vector<LedgerLine> ledger;
    for (std::size_t i = 0; i < even.ledger.size(); ++i)
      if (!out[i]) ledger.push_back(even.ledger[i]);
    if (!turned)
      for (LedgerLine& line : ledger) line.ice = false;
    Model fitted = with_ledger(give ? even : rigid, std::move(ledger));
    for (WheelModel& wheel : fitted.wheels) {
      if (!side) wheel.tyre.side_give_share = 0;
      if (!lean) wheel.tyre.pressure_offset = 0;
    }
    const LiftOff at = first_lift_off(wide ? fitted : on_narrowest_tracks(fitted), stop);
    if (!at.slope) return std::nullopt;
    value[set] = *at.slope;
  }
  Breakdown result;
  result.bare = value.front();
  result.whole = value.back();
  std::vector<double> factorial(n + 1, 1);
  for (std::size_t k = 1; k <= n; ++k) factorial[k] = factorial[k - 1] * static_cast<double>(k);
  for (std::size_t p = 0; p < n; ++p) {
    Cause cause{players[p].name, 0};
    const std::size_t bit = std::size_t{1} << p;
    for (std::size_t set = 0; set < subsets; ++set) {
      if (set & bit) continue;
      const auto before = static_cast<std::size_t>(__builtin_popcountll(set));
      // The share of all orders in which just these stand before it.
      const double orders = factorial[before] * factorial[n - 1 - before] / factorial[n];
      cause.share += orders * (value[set | bit] - value[set]);
    }
    result.causes.push_back(cause);
  }
  std::ranges::stable_sort(result.causes,
                           [](const Cause& a, const Cause& b) { return std::abs(a.share) > std::abs(b.share); });
  return result;
}

}  // namespace sidehill
