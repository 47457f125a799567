/* A handheld instrument's use of halfskip: one probe, three reference points, some readings, and all that can go wrong.
   Results leave as the bits of their floats, for comparison between machines. */

#include <stdint.h>

#include "board.h"
#include "halfskip.h"

static void text(const char *words)
{
    while (*words != '\0')
        board_send(*words++);
}

static void hex(uint32_t word)
{
    for (int shift = 28; shift >= 0; shift -= 4)
        board_send("0123456789abcdef"[(word >> shift) & 15]);
}

static void number(const char *name, float value)
{
    union { float value; uint32_t bits; } both = { .value = value };
    board_send(' ');
    text(name);
    board_send(' ');
    hex(both.bits);
}

static void say(const char *what, int32_t status)
{
    text(what);
    board_send(' ');
    hex((uint32_t)status);
}

static void evaluate(struct hs_instrument *instrument, struct hs_reading reading)
{
    struct hs_found found;
    struct hs_rating rating;
    int32_t status = hs_evaluate(instrument, &reading, &found);
    say("reading", status);
    if (status == HS_OK) {
        number("leg", (float)found.leg);
        number("x", found.x);
        number("y", found.y);
        number("z", found.z);
        number("uy", found.u_y);
        number("uz", found.u_z);
        number("level", found.level);
        number("bound", (float)found.bound);
        status = hs_rate(reading.path, reading.gain - found.level, reading.gain, 0.08f, 25.0f, &rating);
        say(" rated", status);
        number("c", rating.c);
        number("d", rating.d);
    }
    board_send('\n');
}

int main(void)
{
    static struct hs_instrument instrument;
    struct hs_reading reading = { .side = 0, .x = 120.0f, .standoff = 31.0f, .path = 36.9f, .height = 76.0f, .gain = 44.0f };
    const float nan = 0.0f / 0.0f;

    say("null", hs_setup(0, 60.0f, 20.0f));
    say(" early", hs_evaluate(&instrument, &reading, &(struct hs_found){ 0 }));
    say(" angle", hs_setup(&instrument, 90.0f, 20.0f));
    say(" nan", hs_setup(&instrument, nan, 20.0f));
    say(" set", hs_setup(&instrument, 60.0f, 20.0f));
    board_send('\n');

    evaluate(&instrument, reading);
    say("point", hs_dac_point(&instrument, 30.0f, 80.0f, 38.0f));
    say(" point", hs_dac_point(&instrument, 60.0f, 80.0f, 44.5f));
    say(" point", hs_dac_point(&instrument, 110.0f, 80.0f, 52.0f));
    say(" twice", hs_dac_point(&instrument, 60.0f, 80.0f, 40.0f));
    say(" low", hs_dac_point(&instrument, -1.0f, 80.0f, 40.0f));
    say(" null", hs_dac_point(0, 60.0f, 80.0f, 40.0f));
    board_send('\n');

    for (int step = 0; step < 60; step++) {
        reading.path = 30.0f + 1.37f * (float)step;
        reading.standoff = 20.0f + 0.75f * (float)step;
        reading.height = 3.0f + 1.7f * (float)step;
        reading.side = (uint8_t)(step & 1);
        evaluate(&instrument, reading);
    }
    reading.path = 200.0f;
    evaluate(&instrument, reading);
    reading.path = 36.9f;
    reading.side = 2;
    evaluate(&instrument, reading);
    say("null", hs_evaluate(&instrument, 0, 0));
    say(" null", hs_rate(50.0f, 40.0f, 30.0f, 0.08f, 25.0f, 0));
    board_send('\n');
    return 0;
}
