// The arithmetic of angle-beam ultrasonic examination, for C. Generated; do not edit.

#ifndef HALFSKIP_H
#define HALFSKIP_H

#include <stdint.h>

// Done.
#define HS_OK 0

// A pointer is null.
#define HS_NULL 1

// A figure is outside its range, or no number.
#define HS_RANGE 2

// The instrument was not set up with `hs_setup`.
#define HS_NOT_SET_UP 3

// There is no room for another reference point.
#define HS_FULL 4

// There is a reference point at that path already.
#define HS_DUPLICATE 5

// No reference point has been added.
#define HS_NO_REFERENCE 6

// The path is outside the reference points.
#define HS_OUTSIDE 7

// Anything else that the library refuses.
#define HS_REFUSED 8

// The level is as read.
#define HS_EXACT 0

// The echo is above the screen: the level is at least this.
#define HS_AT_LEAST 1

// The echo is not above the noise: the level is at most this.
#define HS_AT_MOST 2

// Words of 64 bits that an instrument takes.
#define HS_WORDS 32

// An instrument in memory of the caller's, zeroed before its first use; only `hs_setup` makes one of it.
typedef struct hs_instrument {
  uint64_t words[HS_WORDS];
} hs_instrument;

// One reading. Lengths in mm, height in percent of the screen, gain in dB.
typedef struct hs_reading {
  // Side of the weld that the probe stands on: 0 is A, 1 is B.
  uint8_t side;
  // Position along the weld.
  float x;
  // Stand-off of the index point from the centreline.
  float standoff;
  // Sound path.
  float path;
  // Height of the echo.
  float height;
  // Gain of the instrument.
  float gain;
} hs_reading;

// What a reading says. Lengths in mm; uncertainties are expanded, k = 2.
typedef struct hs_found {
  // The leg that reached the reflector.
  uint32_t leg;
  // Along the weld.
  float x;
  // Across the weld, positive toward side B.
  float y;
  // Below the near face.
  float z;
  // Uncertainty of y.
  float u_y;
  // Uncertainty of z.
  float u_z;
  // Level over the reference, dB.
  float level;
  // `HS_EXACT`, `HS_AT_LEAST` or `HS_AT_MOST`.
  int32_t bound;
} hs_found;

// A weighted rating with all that went into it, dB; lower is worse.
typedef struct hs_rating {
  // Gain that brings the echo to the reference height.
  float a;
  // Gain that brings the reference to it.
  float b;
  // Attenuation beyond the free part of the path.
  float c;
  // a - b - c.
  float d;
} hs_rating;

#ifdef __cplusplus
extern "C" {
#endif // __cplusplus

// Sets an instrument up for a probe of this refracted angle, degrees, on a plate of this thickness, mm. What the memory
// held before does not matter.
//
// # Safety
// `instrument` is null, or points to memory of an `hs_instrument` that nothing else uses meanwhile.
int32_t hs_setup(struct hs_instrument *instrument,
                 float angle,
                 float thickness);

// Adds a reference point: sound path, mm, height of its echo, percent, gain, dB.
//
// # Safety
// As for `hs_setup`, and the memory was zeroed or set up: memory that nobody wrote must not be read.
int32_t hs_dac_point(struct hs_instrument *instrument,
                     float path,
                     float height,
                     float gain);

// Evaluates a reading: where the reflector is, with its uncertainty, and how strong it is.
//
// # Safety
// As for `hs_dac_point`; `reading` and `found` are null, or point to memory of their kinds.
int32_t hs_evaluate(struct hs_instrument *instrument,
                    const struct hs_reading *reading,
                    struct hs_found *found);

// Rates by d = a - b - c, with c of so many dB a mm beyond so many mm of path; nothing is rounded. The limits of d
// stand in the governing code.
//
// # Safety
// `rating` is null, or points to memory of its kind.
int32_t hs_rate(float path,
                float a,
                float b,
                float per_mm,
                float beyond_mm,
                struct hs_rating *rating);

#ifdef __cplusplus
}  // extern "C"
#endif  // __cplusplus

#endif  /* HALFSKIP_H */
