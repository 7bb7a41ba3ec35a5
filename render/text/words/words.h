// Values in plain words and people's units, for table and screen alike. Every function gives text for every input:
// "never" for what never happens, "-" for what is not a number. Knows no ImGui, no OpenGL, no file.
#pragma once
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

#include "render/namespaces.h"
#include "sim/motion/recording.h"

namespace sidehill::text {

const char* wheel_name(int wheel);  // "rear left"; "no" for -1
// "uphill" or "downhill", where this wheel stands across a slope at that heading [rad]; "" where it is neither, and
// where the machine faces up or down, with both wheels of the axle alike.
std::string_view side_on_slope(int wheel, double heading);
// "no answer at 6 of 72 headings: the worst may be among them".
std::string no_answer_words(std::size_t lost, std::size_t headings);
std::string heading_words(double heading);                         // "across, uphill side to the right"
std::string degrees(std::optional<double> angle, int digits = 1);  // "12.3°", "never"
// A slope of ground as everybody may read it, "30.5° = 59 %": the one form everywhere. Per cent of the degrees as
// shown, never surer than these: whole, from 65° on in tens, above 80° none. `limit`: per cent rounded down, for a
// slope that must not be passed. "never" for nothing, "-" for what is not finite; degrees alone for what is no slope up
// (below 0). An interval behind it stays in degrees.
std::string degrees_and_percent(std::optional<double> slope, int digits = 1, bool limit = false);
// Where a slope of ground lies, "30.5° to 30.8° = 59 to 60 %"; without a high side "25.3° or more = 47 % or more"; one
// number where both sides look alike. Per cent as above; where one side has none "270 % or more", "3 % or less" [rad].
std::string range_in_degrees_and_percent(double low, std::optional<double> high);
// To - from, each as shown: with the two beside it the sum must come out. The one rule for every difference shown [any
// unit]; a number that is not finite gives the plain difference.
double difference_as_shown(double from, double to, int digits = 1);
double angle_between_as_shown(double from, double to);  // the same of two angles [rad], in tenths of a degree
std::string signed_degrees(double angle);               // "+90°"
// "force angle 19.1°" of a moment under way; "-" where it is not known [rad]. It is another measure than the slope left
// at rest, so it has another name: how far the pull on the machine may still turn before it points past the nearest
// line between two wheels.
std::string force_angle_words(std::optional<double> angle);
std::string kilograms(double mass);           // "4 310 kg"
std::string kilonewtons(double force);        // "12.3 kN"
std::string metres(double length);            // "0.62 m"
std::string percent(double share);            // "35 %"
std::string used_words(double used);          // of 0.95 "95 %", of 1.41 "41 % too much"
std::string over_words(double used);          // of 1.41 "41 %", of 1.003 "0.3 %"
std::string capital(std::string text);        // its first letter
std::string event_words(const Event& event);  // "rear left wheel lifts"

// One line that always stands on the screen.
extern const char* const kCautionLine;
// What the answer leaves out, as sentences, a line each. `liquid`: a tyre of what is answered or proposed holds some.
std::string answer_limits_words(bool liquid);

}  // namespace sidehill::text
