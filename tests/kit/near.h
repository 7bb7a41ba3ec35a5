// Absolute comparison. doctest's own Approx adds a scale of 1 to its epsilon and so lets small numbers pass.
#pragma once
#include <doctest/doctest.h>

#include <cmath>

#define CHECK_NEAR(value, expected, tolerance)                                           \
  do {                                                                                   \
    const double near_value_ = (value), near_expected_ = (expected);                     \
    INFO(#value " = ", near_value_, ", expected ", near_expected_, " +- ", (tolerance)); \
    CHECK(std::abs(near_value_ - near_expected_) <= (tolerance));                        \
  } while (false)
