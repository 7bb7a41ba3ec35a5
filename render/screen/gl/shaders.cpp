#include "render/screen/gl/shaders.h"

#include <epoxy/gl.h>

#include <array>
#include <stdexcept>

namespace sidehill::shaders {

const char* const kCommon = R"(uniform vec3 uEye, uSun, uSky, uHorizon;  // uSky, uHorizon already linear
vec3 sky_at(float z) { return mix(uHorizon, uSky, sqrt(clamp(z * 2.6, 0.0, 1.0))); }
vec3 lit(vec3 albedo, float gloss, vec3 n, vec3 v, float open, float sun) {
  vec3 ambient = mix(vec3(0.20, 0.19, 0.155), vec3(0.42, 0.46, 0.51), n.z * 0.5 + 0.5) * open;
  float facing = max(dot(n, uSun), 0.0);
  vec3 colour = albedo * (ambient + vec3(0.98, 0.92, 0.80) * (facing * sun));
  vec3 h = normalize(uSun + v);
  float s = max(dot(n, h), 0.0);
  s *= s; s *= s; s *= s; s *= s;
  float edge = 1.0 - max(dot(n, v), 0.0);
  edge *= edge; edge *= edge;
  return colour + gloss * (s * s * 0.45 * sun * facing + edge * 0.30 * open * (0.6 + 0.4 * n.z)) * vec3(1.0, 0.99, 0.96);
}
vec3 toned(vec3 c) { return sqrt(c * (1.0 + 0.22 * c) / (1.0 + 0.62 * c) * 1.16); }
uniform sampler2DShadow uShadow;
float sun_at(vec3 s) { return texture(uShadow, s); }
)";

// What stands between the eye and a lifted wheel. The wheel is taken as an ellipsoid, `uFlat` times as thin along its
// axle as it is high: compiled in by OPENS where a wheel is lifted, so that other pictures do not pay for it.
const char* const kHides = R"(
#ifdef OPENS
uniform vec4 uLifted[4];      // centre, radius (0 = none)
uniform vec4 uLiftedAxle[4];  // unit, how much thinner along it
bool hides(vec3 w) {
  for (int i = 0; i < 4; ++i) {
    float r = uLifted[i].w;
    if (r <= 0.0) continue;
    vec3 a = uLiftedAxle[i].xyz, o = uEye - uLifted[i].xyz, v = w - uEye;
    o += a * (dot(o, a) * (uLiftedAxle[i].w - 1.0));
    v += a * (dot(v, a) * (uLiftedAxle[i].w - 1.0));
    float vv = dot(v, v), t = -dot(o, v) / vv;
    vec3 m = o + t * v;
    float q = r * r - dot(m, m);
    if (q > 0.0 && t - sqrt(q / vv) > 1.0) return true;
  }
  return false;
}
#endif
)";

const char* const kSolidVertex =
    R"(layout(location = 0) in vec3 aPlace; layout(location = 1) in vec3 aNormal; layout(location = 2) in vec4 aPaint; layout(location = 3) in float aLight;
uniform mat4 uView, uPose, uToShadow;
uniform float uLift;            // off its surface, so that a face does not shade itself
uniform vec4 uGround;           // under this tyre: unit normal, distance
uniform vec3 uCentre, uAxle;    // of the wheel
uniform vec3 uTyre;             // radius (0 = no tyre), rim radius, deflection
#ifdef GHOST
out vec3 vDark;
#elif defined(QUICK)
out vec3 vDark, vLit, vShadow;
#ifdef OPENS
out vec3 vPlace;
#endif
#else
out vec3 vPlace, vNormal, vShadow; out vec4 vPaint; out float vLight;
#endif
void main() {
  vec3 w = (uPose * vec4(aPlace, 1.0)).xyz;
  vec3 n = mat3(uPose) * aNormal;
  if (uTyre.x > 0.0) {
    vec3 r = w - uCentre;
    float along = dot(r, uAxle);
    vec3 radial = r - along * uAxle;
    float size = length(radial);
    float below = smoothstep(0.70, 1.0, dot(radial, -uGround.xyz) / max(size, 1e-3));
    float wall = smoothstep(uTyre.y, mix(uTyre.y, uTyre.x, 0.5), size) * (1.0 - smoothstep(0.93 * uTyre.x, uTyre.x, size));
    w += uAxle * (sign(along) * 0.55 * uTyre.z * below * wall);  // the sidewall bulges
    float d = dot(w, uGround.xyz) - uGround.w;
    if (d < 0.0) w -= uGround.xyz * d;                            // the tread lies flat
  }
#ifdef GHOST
  vDark = vec3(0.45 + 0.20 * n.z + 0.35 * max(dot(n, uSun), 0.0));
#elif defined(QUICK)
  vec3 v = normalize(uEye - w), albedo = aPaint.rgb * aPaint.rgb;
  vDark = toned(lit(albedo, aPaint.a, n, v, aLight, 0.0));
  vLit = toned(lit(albedo, aPaint.a, n, v, aLight, 1.0));
#ifdef OPENS
  vPlace = w;
#endif
#else
  vPlace = w; vNormal = n; vPaint = aPaint; vLight = aLight;
#endif
#ifndef GHOST
  vShadow = (uToShadow * vec4(w + n * uLift, 1.0)).xyz;
#endif
  gl_Position = uView * vec4(w, 1.0);
})";

const char* const kSolidFragment = R"(
in vec3 vPlace, vNormal, vShadow; in vec4 vPaint; in float vLight; out vec4 oColour;
#ifdef OPENS
uniform float uVeil;  // 0: draw what hides no lifted wheel; else what does, so opaque
#endif
void main() {
  float alpha = 1.0;
#ifdef OPENS
  if (hides(vPlace) != (uVeil > 0.0)) discard;
  alpha = uVeil > 0.0 ? uVeil : 1.0;
#endif
  vec3 n = normalize(vNormal), v = normalize(uEye - vPlace);
  oColour = vec4(toned(lit(vPaint.rgb * vPaint.rgb, vPaint.a, n, v, vLight, sun_at(vShadow))), alpha);
})";

const char* const kQuickFragment = R"(
in vec3 vDark, vLit, vShadow; out vec4 oColour;
#ifdef OPENS
in vec3 vPlace;
uniform float uVeil;
#endif
void main() {
  float alpha = 1.0;
#ifdef OPENS
  if (hides(vPlace) != (uVeil > 0.0)) discard;
  alpha = uVeil > 0.0 ? uVeil : 1.0;
#endif
  oColour = vec4(mix(vDark, vLit, sun_at(vShadow)), alpha);
})";

const char* const kDepthFragment = "void main() {}\n";

const char* const kGlassFragment = R"(
in vec3 vPlace, vNormal, vShadow; in vec4 vPaint; in float vLight; out vec4 oColour;
uniform vec2 uGlass;  // opacity seen square on, and at the edge
void main() {
  vec3 n = normalize(vNormal), v = normalize(uEye - vPlace);
  if (dot(n, v) < 0.0) n = -n;
  float edge = 1.0 - dot(n, v);
  edge *= edge;
  vec3 r = reflect(-v, n);
  vec3 around = r.z > 0.0 ? sky_at(r.z) : vec3(0.20, 0.21, 0.15);
  float s = max(dot(r, uSun), 0.0);
  s *= s; s *= s; s *= s; s *= s; s *= s;
  vec3 colour = vPaint.rgb * vPaint.rgb * 0.45 + around * (0.22 + 0.55 * edge);
  oColour = vec4(toned(colour + s), clamp(mix(uGlass.x, uGlass.y, edge) + 0.7 * s, 0.0, 1.0));
})";

const char* const kLiquidFragment = R"(
in vec3 vPlace, vNormal, vShadow; in vec4 vPaint; in float vLight; out vec4 oColour;
uniform vec4 uSurface;  // unit normal, distance
uniform vec3 uTint;     // linear
uniform float uIce;     // 1: a frozen lump
uniform vec3 uCentre, uAxle;
float hash(vec2 p) { return fract(sin(dot(p, vec2(127.1, 311.7))) * 43758.5453); }
// Facets with cracks between them, as they lie in a lump that turns with its wheel.
vec3 ice_at(vec3 place) {
  vec3 r = place - uCentre;
  vec2 q = vec2(dot(r, cross(uAxle, uSurface.xyz)), dot(r, uSurface.xyz)) * 6.5 + dot(r, uAxle) * 1.7, cell = floor(q);
  float first = 9.0, second = 9.0, tone = 0.0;
  for (int i = -1; i <= 1; ++i)
    for (int k = -1; k <= 1; ++k) {
      vec2 c = cell + vec2(i, k);
      float d = distance(q, c + vec2(hash(c), hash(c + 17.0)));
      if (d < first) { second = first; first = d; tone = hash(c + 5.0); }
      else second = min(second, d);
    }
  float crack = 1.0 - smoothstep(0.02, 0.09, second - first);
  return mix(uTint * (0.62 + 0.42 * tone), vec3(0.20, 0.30, 0.38), 0.75 * crack);
}
void main() {
  float depth = uSurface.w - dot(vPlace, uSurface.xyz);
  if (depth < 0.0) discard;
#ifdef OPENS
  if (hides(vPlace)) discard;
#endif
  vec3 n = normalize(vNormal), v = normalize(uEye - vPlace);
  vec3 colour;
  if (uIce > 0.5) {
    oColour = vec4(toned(ice_at(vPlace) * (gl_FrontFacing ? 0.78 + 0.30 * max(dot(n, uSun), 0.0) : 0.95)), 1.0);
    return;
  }
  if (gl_FrontFacing) {
    float edge = 1.0 - max(dot(n, v), 0.0);
    float wall = 0.80 + 0.30 * max(dot(n, uSun), 0.0);
    colour = mix(uTint * 1.25, uTint * 0.50, clamp(depth * 1.1, 0.0, 1.0)) * wall + uHorizon * edge * edge * 0.22;
    colour = mix(vec3(0.85, 0.93, 1.0), colour, smoothstep(0.008, 0.016, depth));  // where the surface meets the wall
  } else {
    colour = mix(uTint * 1.5, uHorizon, 0.42);  // looking down on the surface
  }
  oColour = vec4(toned(colour), 0.95);
})";

const char* const kGroundVertex =
    R"(layout(location = 0) in vec3 aPlace; layout(location = 1) in vec3 aNormal; layout(location = 2) in vec4 aPaint; layout(location = 3) in float aLight;
uniform mat4 uView, uToShadow;
uniform vec2 uFocus;
uniform float uLines;
uniform vec4 uSlope;       // angle, reach of the even slope downhill (from) and uphill (to) in y of G, length of the easing
uniform vec4 uSpots[5];    // place where something stands close (world), 1 / radius squared
out vec3 vDark, vLit, vShadow, vGround; out vec3 vNear;  // vGround: x, y of G, true height
void main() {
  float y = aPlace.y, edge = clamp(y, uSlope.y, uSlope.z), past = abs(y - edge), side = sign(y - edge);
  float a0 = uSlope.x, s = min(past, uSlope.w), turn = a0 * (1.0 - s / uSlope.w);
  // Along the even slope, then along an arc whose steepness falls evenly to nothing, then level.
  vec2 p = edge * vec2(cos(a0), sin(a0));
  if (past > 0.0) {
    vec2 arc = abs(a0) > 1e-3 ? uSlope.w / a0 * vec2(sin(a0) - sin(turn), cos(turn) - cos(a0)) : vec2(s, s * a0);
    p += side * (arc + vec2(past - s, 0.0));
  }
  float c = cos(turn), q = sin(turn);
  vec3 up = vec3(0.0, -q, c);
  // Gentle hills far off, so that the horizon is not a ruled line.
  float away = smoothstep(60.0, 170.0, length(aPlace.xy));
  float hill = away * (3.2 * sin(aPlace.x * 0.021 + 1.0) + 2.4 * sin(aPlace.x * 0.043 + aPlace.y * 0.017) + 2.0);
  vec3 w = vec3(aPlace.x, p.x, p.y) + up * aPlace.z + vec3(0.0, 0.0, hill);
  vec3 n = vec3(aNormal.x, c * aNormal.y - q * aNormal.z, q * aNormal.y + c * aNormal.z);
  float open = aLight;
  for (int i = 0; i < 5; ++i) {
    vec3 d = w - uSpots[i].xyz;
    float k = 1.0 + dot(d, d) * uSpots[i].w;
    open *= 1.0 - 0.62 / (k * k);
  }
  // Lit once per corner, in the sun and out of it: the ground bends gently, and this is most of the picture.
  vec3 albedo = aPaint.rgb * aPaint.rgb;
  vec3 ambient = mix(vec3(0.20, 0.19, 0.155), vec3(0.42, 0.46, 0.51), n.z * 0.5 + 0.5) * open;
  vec3 sun = vec3(0.98, 0.92, 0.80) * (max(dot(n, uSun), 0.0) * (0.5 + 0.5 * open));
  float d = distance(uEye, w), haze = d * d * 3.85e-5;
  haze = haze / (1.0 + haze);
  vDark = toned(mix(albedo * ambient, uHorizon, haze));
  vLit = toned(mix(albedo * (ambient + sun), uHorizon, haze));
  vGround = vec3(aPlace.xy, w.z);
  vNear = vec3(1.0 - smoothstep(6.0, 10.5, distance(aPlace.xy, uFocus)),
               uLines * clamp(1.4 - d * 0.022, 0.0, 1.0) * clamp(1.0 - past / 30.0, 0.0, 1.0),
               0.030 * clamp(1.5 - d * 0.020, 0.0, 1.0));
  vShadow = (uToShadow * vec4(w, 1.0)).xyz;
  gl_Position = uView * vec4(w, 1.0);
})";

const char* const kGroundFragment = R"(
in vec3 vDark, vLit, vShadow, vGround; in vec3 vNear; out vec4 oColour;
void main() {
  vec3 step = fwidth(vGround);
  // Swaths along the contour, as a mower leaves them.
  float swath = abs(fract(vGround.y / 4.8) - 0.5);
  float k = 1.0 + vNear.z * clamp(swath * 24.0 - 6.0, -1.0, 1.0);
#ifdef NEAR
  vec3 colour = mix(vDark, vLit, sun_at(vShadow));
  // The grain of the sward, as fine both ways, while it is wider than a pixel.
  vec2 cell = fract(floor(vGround.xy * 26.0) * vec2(0.1031, 0.1137));
  cell += dot(cell, cell.yx + 33.33);
  k += vNear.x * (fract((cell.x + cell.y) * cell.x) - 0.5) * 0.10 * clamp(1.6 - max(step.x, step.y) * 22.0, 0.0, 1.0);
  vec2 g = abs(fract(vGround.xy - 0.5) - 0.5) / max(step.xy, vec2(1e-4));
  float line = clamp(1.35 - min(g.x, g.y), 0.0, 1.0) * vNear.x * min(vNear.y * 4.0, 1.0) * clamp(1.5 - max(step.x, step.y) * 5.0, 0.0, 1.0);
  colour *= k;
  colour += (vec3(0.97, 0.97, 0.90) - colour) * (0.20 * line);
#else
  vec3 colour = vLit * k;
#endif
  // Contour lines: every half metre of true height, each fourth one stronger.
  float z = vGround.z * 2.0, wide = max(step.z * 2.0, 1e-4);
  float fine = abs(fract(z - 0.5) - 0.5) / wide, strong = abs(fract(z * 0.25 - 0.5) - 0.5) * 4.0 / wide;
  float contour = max(0.11 * clamp(1.4 - fine, 0.0, 1.0), 0.20 * clamp(1.9 - strong, 0.0, 1.0));
  contour *= vNear.y * clamp(1.7 - step.z * 6.0, 0.0, 1.0) * clamp(step.z * 600.0 - 0.2, 0.0, 1.0);
  oColour = vec4(colour * (1.0 - contour), 1.0);
})";

const char* const kMarkVertex =
    R"(layout(location = 0) in vec3 aPlace; layout(location = 1) in vec3 aNormal; layout(location = 2) in vec4 aColour;
uniform mat4 uView;
out vec4 vColour; out vec3 vNormal;
void main() { vColour = aColour; vNormal = aNormal; gl_Position = uView * vec4(aPlace, 1.0); })";

const char* const kMarkFragment = R"(
in vec4 vColour; in vec3 vNormal; out vec4 oColour;
uniform float uFade;
void main() {
  float shade = dot(vNormal, vNormal) > 0.1 ? 0.72 + 0.28 * dot(normalize(vNormal), normalize(uSun + vec3(0.0, 0.0, 0.4))) : 1.0;
  oColour = vec4(vColour.rgb * shade, vColour.a * uFade);
})";

// Lightness, which part, and the distance from the eye in steps of a millimetre over two bytes.
const char* const kGhostFragment = R"(
in vec3 vDark; out vec4 oColour;
uniform float uPart;
void main() {
  float z = min(4.0 / gl_FragCoord.w, 254.99);
  oColour = vec4(vDark.x, uPart, floor(z) / 255.0, fract(z));
})";

const char* const kTracingVertex = R"(void main() {
  gl_Position = vec4(gl_VertexID == 1 ? 3.0 : -1.0, gl_VertexID == 2 ? 3.0 : -1.0, 0.0, 1.0);
})";

// The outline stands where another part begins or the distance jumps.
const char* const kTracingFragment = R"(
uniform sampler2D uGhost, uSceneDepth;
uniform vec2 uPlanes;     // nearest and farthest distance of the view
uniform float uPixel;     // samples per pixel
uniform vec3 uTint;
out vec4 oColour;
void main() {
  ivec2 p = ivec2(gl_FragCoord.xy);
  int s = int(uPixel);
  ivec2 left = max(p - ivec2(s, 0), ivec2(0)), low = max(p - ivec2(0, s), ivec2(0));
  vec4 here = texelFetch(uGhost, p, 0), beside = texelFetch(uGhost, left, 0), under = texelFetch(uGhost, low, 0);
  vec3 away = vec3(here.z, beside.z, under.z) * 63.75 + vec3(here.w, beside.w, under.w) * 0.25;
  vec3 jump = vec3(notEqual(vec2(here.y), vec2(beside.y, under.y)), 0.0) + vec3(step(vec2(0.18), abs(away.yz - away.xx)), 0.0);
  float edge = min(jump.x + jump.y, 1.0), nearest = min(away.x, min(away.y, away.z));
  // The first machine's distance where the nearest of the three is, not beside it.
  ivec2 at = away.x <= nearest ? p : away.y <= nearest ? left : low;
  float d = texelFetch(uSceneDepth, at, 0).x;
  float scene = uPlanes.x * uPlanes.y / (uPlanes.y - d * (uPlanes.y - uPlanes.x));
  // Where both machines are the same, the first one is seen.
  if (nearest > 63.0 || abs(nearest - scene) < 0.05) discard;
  vec2 q = gl_FragCoord.xy / uPixel;
  if (nearest < scene) {
    float inside = step(away.x, 63.0), hatch = clamp(abs(fract((q.x + q.y) / 9.0) - 0.5) * 8.0 - 2.4, 0.0, 1.0);
    vec3 fill = mix(uTint, vec3(1.0), 0.30 + 0.62 * here.x - 0.30 * hatch);
    oColour = vec4(mix(fill, uTint * 0.8, edge), max(inside * (0.46 + 0.20 * hatch), 0.95 * edge));
  } else {
    oColour = vec4(uTint, 0.75 * edge * step(0.45, fract((q.x - q.y) / 8.0)));
  }
})";

const char* const kSkyVertex = R"(uniform mat4 uUnview;  // clip to world directions
out vec3 vRay;
void main() {
  vec2 p = vec2(gl_VertexID == 1 ? 3.0 : -1.0, gl_VertexID == 2 ? 3.0 : -1.0);
  vec4 far = uUnview * vec4(p, 1.0, 1.0);
  vRay = far.xyz / far.w;
  gl_Position = vec4(p, 1.0, 1.0);
})";

const char* const kSkyFragment = R"(
in vec3 vRay; out vec4 oColour;
void main() {
  vec3 ray = normalize(vRay - uEye);
  float dither = fract(52.98 * fract(dot(gl_FragCoord.xy, vec2(0.0671, 0.00584)))) - 0.5;
  oColour = vec4(toned(sky_at(ray.z)) + dither / 255.0, 1.0);
})";

namespace {

unsigned compiled(unsigned kind, const std::string& text) {
  const unsigned shader = glCreateShader(kind);
  const std::array<const char*, 2> source = {"#version 330 core\n", text.c_str()};
  glShaderSource(shader, 2, source.data(), nullptr);
  glCompileShader(shader);
  int ok = 0;
  glGetShaderiv(shader, GL_COMPILE_STATUS, &ok);
  if (ok == 0) {
    std::string log(2000, ' ');
    int length = 0;
    glGetShaderInfoLog(shader, static_cast<int>(log.size()), &length, log.data());
    log.resize(static_cast<std::size_t>(length));
    glDeleteShader(shader);
    throw std::runtime_error("the graphics driver refused a shader: " + log);
  }
  return shader;
}

}  // namespace

unsigned program(const std::string& vertex, const std::string& fragment) {
  const unsigned v = compiled(GL_VERTEX_SHADER, vertex), f = compiled(GL_FRAGMENT_SHADER, fragment);
  const unsigned made = glCreateProgram();
  glAttachShader(made, v);
  glAttachShader(made, f);
  glLinkProgram(made);
  glDeleteShader(v);
  glDeleteShader(f);
  int ok = 0;
  glGetProgramiv(made, GL_LINK_STATUS, &ok);
  if (ok == 0) {
    glDeleteProgram(made);
    throw std::runtime_error("the graphics driver could not link a shader program");
  }
  return made;
}

}  // namespace sidehill::shaders
