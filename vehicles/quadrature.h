// Gauss-Legendre on 0..1, twelve nodes, halved by symmetry. Source: Abramowitz and Stegun 1964, table 25.4.
#pragma once
#include <array>

namespace sidehill {

inline constexpr std::array<double, 6> kNode{0.1252334085114689, 0.3678314989981802, 0.5873179542866175,
                                             0.7699026741943047, 0.9041172563704749, 0.9815606342467192};
inline constexpr std::array<double, 6> kWeight{0.2491470458134028, 0.2334925365383548, 0.2031674267230659,
                                               0.1600783285433462, 0.1069393259953184, 0.0471753363865118};

}  // namespace sidehill
