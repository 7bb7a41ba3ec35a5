// The run being shown: stepped, paused, looked back at, looped, driven by hand. Knows neither what edits the scene nor
// the answer at rest; time is handed in.
#pragma once
#include <memory>
#include <optional>
#include <utility>
#include <vector>

#include "render/namespaces.h"
#include "sim/motion/run.h"

namespace sidehill::screen {

// Keys that do something as long as they are held down, driving by hand.
struct HandKeys {
  bool left = false, right = false, brake = false, raise = false, lower = false;
  bool operator==(const HandKeys&) const = default;
};

class Playback {
 public:
  static constexpr double kRates[] = {1, 0.5, 0.2, 0.1};
  static constexpr double kLoopBefore = 2, kLoopAfter = 2;           // [s]
  static constexpr double kFastest = 30;                             // beyond it nothing here is true: it stops [m/s]
  static constexpr double kHandDuration = 600;                       // a run driven by hand lasts so long [s]
  static constexpr int kFastestByHand = 40, kFastestBackByHand = 5;  // [km/h]

  // --- the run -------------------------------------------------------------------------------------------------------
  void drop_run();  // there is none any more
  // A new one, not playing yet. `rest`: the pose it begins in, as Runner takes it; nullptr = to be worked out. Throws
  // InputError for a machine that cannot be set in motion.
  void start(const Scene& scene, const Model& model, const std::optional<Rest>* rest);
  void keep(Recording recording, const Model& model);  // one kept in a file, which holds at least one moment
  bool started() const { return recording() != nullptr; }
  bool finished() const { return kept_ || (runner_ && runner_->done()); }  // nothing more will come of it
  bool is_kept() const { return kept_ != nullptr; }
  bool too_fast() const;  // it has stopped for that
  const Recording* recording() const { return runner_ ? &runner_->recording() : kept_.get(); }
  // Force angle of each stored state of the recording [rad]; empty where all wheels are in the air.
  const std::vector<std::optional<double>>& margins() const { return margins_; }
  const State& shown() const;  // only where started()

  unsigned version() const { return version_; }  // counts up whenever the picture has changed
  void go(bool on) { playing_ = on, ++version_; }
  bool playing() const { return playing_; }
  void set_rate(double rate);  // simulated seconds per second
  double rate() const { return rate_; }
  double keeping_up() const { return keeping_up_; }  // simulated over asked time of late, 0 to 1
  // `wall` seconds have passed on the wall: see Session::advance. Returns true if the picture changed.
  bool advance(double wall, double budget);
  void step_once();  // one step of the simulation, or the next stored moment when looking back

  // --- looking back --------------------------------------------------------------------------------------------------
  double length() const;                               // recorded so far [s]; 0 without a run
  double looked_at() const;                            // time of the moment shown [s]
  bool looks_back() const { return at_.has_value(); }  // at an earlier moment than the newest
  void look_at(double time);
  void seek(double time);
  void step_back();
  void newest();
  void set_loop(bool on);
  bool loops() const { return loops_; }
  std::optional<std::pair<double, double>> loop_span() const;
  void loop_over(std::optional<std::pair<double, double>> span) { shared_span_ = span; }

  // --- driving by hand -----------------------------------------------------------------------------------------------
  bool by_hand() const { return by_hand_; }
  void set_by_hand(bool on) { by_hand_ = on; }  // for a run that is about to start
  void take_over();                             // of the run as it goes: from now on by hand, as fast as it goes
  void let_go();                                // it comes to a stop and stands, the run goes on
  bool driven_by_hand() const { return recording() && !recording()->orders.empty(); }  // now or before
  const ByHand& hand() const { return hand_; }                                         // what is asked of it
  void forget_hands() { hand_ = {}, keys_ = {}; }
  void drive(const ByHand& hand);  // asks that of the machine; nothing happens unless by_hand()
  void change_speed(int steps);    // of 1 km/h, negative slower; backwards below 0
  void hold_keys(const HandKeys& keys);
  const HandKeys& keys() const { return keys_; }

 private:
  void lasts_by_hand();
  void use_hands(double seconds);
  void watch();
  bool look_on(double wall);
  void step_on();
  void look(double time);

  Scene scene_;                 // of the run
  std::optional<Model> model_;  // likewise
  std::unique_ptr<Runner> runner_;
  std::unique_ptr<Recording> kept_;  // of a file, in place of a runner
  std::optional<double> at_;         // looked back to [s]; empty = the newest moment
  State looked_;                     // shown then
  bool loops_ = false;
  std::optional<std::pair<double, double>> shared_span_;
  std::vector<std::optional<double>> margins_;
  bool playing_ = false;
  bool by_hand_ = false;
  ByHand hand_;
  HandKeys keys_;
  double rate_ = 1;
  double keeping_up_ = 1;
  unsigned version_ = 0;
  double owed_ = 0;  // simulated time asked for and not yet stepped, less than one chunk [s]
};

}  // namespace sidehill::screen
