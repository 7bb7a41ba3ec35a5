// What the viewer knows: the scene being edited, its answer, and the run being shown. The window and the panels only
// show this and call it. Knows no OpenGL, no ImGui, no clock: time is handed in.
#pragma once
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "render/screen/desk/answering.h"
#include "sim/insight/verdict.h"
#include "sim/motion/run.h"
#include "sim/rest/statics.h"
#include "sim/scene/scene_fields.h"

namespace sidehill {

// What the picture shows.
enum class Showing {
  rest,    // the resting pose of the set-up as it is now
  placed,  // it cannot rest here: set down square, nothing carried
  run,     // a moment of a run
};

// Keys that do something as long as they are held down, driving by hand.
struct HandKeys {
  bool left = false, right = false, brake = false, raise = false, lower = false;
  bool operator==(const HandKeys&) const = default;
};

class Session {
 public:
  static constexpr int kHeadings = Answering::kHeadings;  // points of the margin by heading
  static constexpr double kRates[] = {1, 0.5, 0.2, 0.1};

  explicit Session(Scene scene);

  // --- the scene -----------------------------------------------------------------------------------------------------
  const Scene& scene() const { return scene_; }
  const Scene& loaded() const { return loaded_; }  // as it was opened
  bool edited() const { return edited_; }          // differs from what was opened
  unsigned edits() const { return edits_; }        // counts up with every change of the scene
  // Value of a datum in the file's unit; key of a field or an alias (then of its first target). Throws
  // std::out_of_range if there is none of that name and kind. So do the setters. An alias is set in all its targets.
  double number(std::string_view key) const;
  double loaded_number(std::string_view key) const;
  int choice(std::string_view key) const;
  bool flag(std::string_view key) const;
  void set_number(std::string_view key, double value);  // clamped to the field's range
  void set_choice(std::string_view key, int index);
  void set_flag(std::string_view key, bool on);
  void restore();                             // back to what was opened
  void edit(Scene scene);                     // any other change, as one
  void mark_edited() { edited_ = true; }      // what was opened is not saved anywhere
  void open(Scene scene);                     // another scene; what was opened before is forgotten
  void take_back(Scene scene, Scene loaded);  // as they were once
  void show(Recording recording);             // a run kept in a file, with its scene. Throws InputError for a bad one

  // --- its answer ----------------------------------------------------------------------------------------------------
  // Sets out to answer the scene if it has changed since, and takes over what has come out. On even ground it waits up
  // to `patience` [s] for the answer at this heading, which is enough; over features it waits for nothing, and the
  // answer comes later. Returns true if anything new came out. Never throws for an impossible machine: see refusal().
  bool answer(double patience);
  void settle();                                                   // waits for everything but the doubts
  void settle_doubts();                                            // waits for everything
  bool working() const { return waiting_ || (work_ && !taken_); }  // what statics() says is of an earlier scene
  bool headings_complete() const { return !stale_ && !working() && (!work_ || next_heading_ >= kHeadings); }
  // What statics() says, and with it further(), doubts() and breakdown(), is of the scene as it is: neither refused nor
  // being worked out. Whoever shows a number of the machine at rest asks first.
  bool answer_is_of_scene() const { return refusal_.empty() && work_ && taken_ && !stale_ && !waiting_; }
  // Likewise by_heading() and worst_heading(), every one of them.
  bool headings_are_of_scene() const { return answer_is_of_scene() && headings_complete(); }
  // Nothing more will come out.
  bool answer_complete() const {
    return headings_complete() && (!work_ || (work_->done() && pieces_ == work_->pieces()));
  }
  const std::string& refusal() const { return refusal_; }  // why this machine cannot exist; empty = it can
  const Model* model() const { return model_.get(); }      // of the last possible machine; nullptr before the first
  const StaticSolution& statics() const { return statics_; }
  // What statics() comes down to, with what is known so far: the intervals and the ratings come a moment later. Ask
  // answer_is_of_scene() first.
  const StandVerdict& verdict() const { return verdict_; }
  const LoadCheck* loads() const {
    return answer_is_of_scene() ? work_->loads() : nullptr;
  }  // of it; nullptr = not known
  // From -180 deg, equally spaced. Never of two scenes at once: on even ground the previous answer's until all are
  // known anew, over features `failed` where not reached yet.
  const std::vector<EnvelopePoint>& by_heading() const { return by_heading_; }
  // What a person must know first: overloads, bends that lift a wheel, ice. On even ground of the answer before for
  // the moment until they are known anew.
  const std::vector<std::string>& warnings() const { return warnings_; }
  // Of the scene as it is; nullptr while they are worked out: load limits, rules, bends, causes; how far off it may be.
  const Further* further() const { return answer_is_of_scene() ? work_->further() : nullptr; }
  const Breakdown* breakdown() const {
    return further() && further()->breakdown ? &*further()->breakdown : nullptr;  // also where there is none
  }
  const Uncertainty* doubts() const { return answer_is_of_scene() ? work_->doubts() : nullptr; }
  // Least slope that lifts a wheel; nullptr = none lifts, or not headings_are_of_scene().
  const EnvelopePoint* worst_heading() const;

  // --- the run -------------------------------------------------------------------------------------------------------
  void play();  // starts the run, at rest unless the scene lets it fall; or goes on
  void pause();
  void toggle() { playing_ ? pause() : play(); }
  void reset();      // back to the resting pose
  void step_once();  // one step of the simulation, or the next stored moment when looking back; then paused
  void drop();       // lets it fall from the scene's height (kDropHeight if that is 0) and stand: speed 0
  void drive();      // starts as play() does, then drives off at the scene's speed (kDriveSpeed if that is 0)
  bool restarts() const { return restart_in_ > 0; }  // an edit has stopped it, and it will start anew in a moment
  void restart_soon();                               // as an edit does it
  void set_rate(double rate);                        // simulated seconds per second
  double rate() const { return rate_; }
  bool playing() const { return playing_; }
  bool started() const { return recording() != nullptr; }
  bool finished() const { return kept_ || (runner_ && runner_->done()); }  // nothing more will come of it
  // `wall` seconds have passed on the wall: steps the run by as much simulated time, times the rate, but for no longer
  // than `budget` seconds of computing. What could not be done is dropped: a slow machine shows slow motion, the time
  // step never changes. Returns true if the picture changed.
  bool advance(double wall, double budget);
  // Simulated over asked time of late, 0 to 1: below 0.95 the computer cannot keep up.
  double keeping_up() const { return keeping_up_; }
  const std::string& run_refusal() const {
    return run_refusal_;
  }                            // why this machine cannot be set in motion; empty = it can
  Scene scene_of_run() const;  // the scene, with the height the Drop button gives where it has none of its own
  const Recording* recording() const { return runner_ ? &runner_->recording() : kept_.get(); }
  // Force angle of each stored state of the recording [rad]; empty where all wheels are in the air.
  const std::vector<std::optional<double>>& margins() const { return margins_; }

  // --- looking back --------------------------------------------------------------------------------------------------
  double length() const;                               // recorded so far [s]; 0 without a run
  double looked_at() const;                            // time of the moment shown [s]
  bool looks_back() const { return at_.has_value(); }  // at an earlier moment than the newest
  void look_at(double time);  // shows the moment at that time, between stored ones too; within what is recorded
  void seek(double time);  // shows the stored moment nearest to it [s]; from there play goes on. Nothing without a run
  void step_back();        // the stored moment before, then paused
  void newest();           // back to the newest moment
  void set_loop(bool on);  // over and over what lies around the first lift-off, from kLoopBefore before it on
  bool loops() const { return loops_; }
  // What is looped [s]: empty while there is nothing to loop. Without a lift-off, all there is once the run has ended.
  std::optional<std::pair<double, double>> loop_span() const;
  // Loops over that instead, as two set-ups share one stretch; empty = its own again.
  void loop_over(std::optional<std::pair<double, double>> span) { shared_span_ = span; }
  static constexpr double kLoopBefore = 2, kLoopAfter = 2;  // [s]

  // --- driving by hand -----------------------------------------------------------------------------------------------
  void take_over();  // from now on by hand, as fast as it goes just then; starts the run where there is none
  void let_go();     // it comes to a stop and stands, the run goes on
  bool by_hand() const { return by_hand_; }
  bool driven_by_hand() const { return recording() && !recording()->orders.empty(); }  // now or before
  const ByHand& hand() const { return hand_; }                                         // what is asked of it
  void drive(const ByHand& hand);        // asks that of the machine; nothing happens unless by_hand()
  void change_speed(int steps);          // of 1 km/h, negative slower; backwards below 0
  void hold_keys(const HandKeys& keys);  // those held now
  const HandKeys& keys() const { return keys_; }

  // --- what is to be shown -------------------------------------------------------------------------------------------
  Showing showing() const { return showing_; }
  const State& shown() const;                    // valid whenever model() is not null
  unsigned version() const { return version_; }  // counts up whenever the picture has changed

  static constexpr double kFastest = 30;        // beyond it nothing here is true any more: the run stops [m/s]
  bool too_fast() const;                        // it has stopped for that
  static constexpr double kHandDuration = 600;  // a run driven by hand lasts so long [s]
  static constexpr int kFastestByHand = 40, kFastestBackByHand = 5;  // [km/h]
  static constexpr double kDriveSpeed = 1.5;  // [m/s], about 5 km/h: a careful walk through rough ground
  static constexpr double kDropHeight = 0.1;  // [m], a hand's breadth

 private:
  bool look_after(double patience);
  void leave_work();
  void change(Scene scene);
  void begin();
  void start_run();
  void lasts_by_hand();
  void use_hands(double seconds);
  void drop_run();
  void watch();
  bool look_on(double wall);
  void step_on();
  void look(double time);

  Scene loaded_, scene_;
  bool edited_ = false;
  unsigned edits_ = 0;
  bool stale_ = true;
  std::string refusal_;
  std::unique_ptr<Model> model_;
  StaticSolution statics_;
  StandVerdict verdict_;
  std::vector<EnvelopePoint> by_heading_;
  std::unique_ptr<Model> waiting_;  // built, to be answered once enough of the work left has ended
  std::unique_ptr<Answering> work_;
  std::vector<std::unique_ptr<Answering>> leaving_;  // asked to stop; kept until they have, so that no picture waits
  bool taken_ = false;                               // statics_ is work_'s
  bool warned_ = false;                              // warnings_ are work_'s
  int pieces_ = 0;                                   // of work_ that have been seen
  std::vector<std::string> warnings_;
  int next_heading_ = kHeadings;  // of by_heading_, not taken from work_ yet
  State still_;                   // of rest or placed
  Showing showing_ = Showing::rest;
  std::unique_ptr<Runner> runner_;
  std::unique_ptr<Recording> kept_;  // of a file, in place of a runner
  std::optional<double> at_;         // looked back to [s]; empty = the newest moment
  State looked_;                     // shown then
  bool loops_ = false;
  std::optional<std::pair<double, double>> shared_span_;
  std::vector<std::optional<double>> margins_;
  std::string run_refusal_;
  bool playing_ = false;
  bool by_hand_ = false;
  ByHand hand_;
  HandKeys keys_;
  double restart_in_ = 0;  // wall time until an edited run starts anew [s]; 0 = not waiting
  bool falls_ = false;     // this run was asked for by drop()
  double rate_ = 1;
  double keeping_up_ = 1;
  double owed_ = 0;  // simulated time asked for and not yet stepped, less than one chunk [s]
  unsigned version_ = 1;
};

// Fields a key stands for: the field itself or an alias's targets. Empty if unknown.
std::vector<const Field*> fields_of(std::string_view key);

}  // namespace sidehill
