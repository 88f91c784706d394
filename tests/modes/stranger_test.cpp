#include "modes/ring/stranger.hpp"
#include "support/catch.hpp"

using namespace platewright::modes;

namespace {

std::vector<Partial> tap(const std::vector<std::pair<double, double>>& hz_and_db) {
    std::vector<Partial> partials;
    for (const auto& [hz, db] : hz_and_db)
        partials.push_back({.frequency_hz = hz, .q = 60, .level_db = db});
    return partials;
}

// A back and another one, invented; the centre and an end are struck.
const std::vector<Partial> k_centre =
    tap({{355, 0}, {171, -14}, {612, -8}, {262, -20}, {112, -28}});
const std::vector<Partial> k_end = tap({{171, 0}, {355, -10}, {262, -6}, {431, -12}, {112, -24}});
const std::vector<Partial> k_other = tap({{330, 0}, {158, -9}, {571, -8}, {243, -15}, {402, -22}});

std::vector<std::span<const Partial>> both() { return {k_centre, k_end}; }

} // namespace

TEST_CASE("a tap of the same plate at another spot is no stranger, also where it was hung anew") {
    std::vector<Partial> edge = tap({{112, 0}, {262, -9}, {171, -11}, {700, -16}});
    CHECK_FALSE(rings_like_none_of(both(), edge));
    for (Partial& partial : edge)
        partial.frequency_hz *= 1.005; // re-hung: half a percent, common practice
    CHECK_FALSE(rings_like_none_of(both(), edge));
}

TEST_CASE("a tap of another plate is a stranger, but not to a single tap, which may be the "
          "stranger itself") {
    CHECK(rings_like_none_of(both(), k_other));
    const std::vector<std::span<const Partial>> one{k_centre};
    CHECK_FALSE(rings_like_none_of(one, k_other));
    CHECK_FALSE(rings_like_none_of(both(), {}));
}

TEST_CASE("what agreement looks at: the eight strongest within 30 dB, against what is heard within "
          "40 dB, to 0.7 percent") {
    std::vector<Partial> many;
    for (int i = 0; i < 12; ++i)
        many.push_back({.frequency_hz = 1000.0 + 100 * i, .level_db = -2.0 * i});
    CHECK(agreement(both(), many).strong == 8);
    many = tap({{355, 0}, {500, -29}, {800, -31}});
    CHECK(agreement(both(), many).strong == 2);
    CHECK(agreement(both(), tap({{355 * 1.006, 0}})).shared == 1);
    CHECK(agreement(both(), tap({{355 * 1.008, 0}})).shared == 0);
    const std::vector<Partial> faint = tap({{100, 0}, {355, -39}, {500, -41}});
    const std::vector<std::span<const Partial>> others{faint};
    CHECK(agreement(others, tap({{355, 0}, {500, -1}})).shared == 1);
}

TEST_CASE("a third of the strong partials is enough to belong") {
    // Three strong ones, one shared: belongs. Four, one shared: does not.
    CHECK_FALSE(rings_like_none_of(both(), tap({{355, 0}, {900, -1}, {1000, -2}})));
    CHECK(rings_like_none_of(both(), tap({{355, 0}, {900, -1}, {1000, -2}, {1200, -3}})));
}

TEST_CASE("what rings longer than wood can is no plate: a glass, but not the liveliest spruce") {
    const auto of_q = [](double q) {
        return std::vector<Partial>{{.frequency_hz = 640, .q = q, .level_db = 0},
                                    {.frequency_hz = 1490, .q = q / 2, .level_db = -9},
                                    {.frequency_hz = 90, .q = 30, .level_db = -25}};
    };
    CHECK_FALSE(outrings_wood(of_q(60)));
    CHECK_FALSE(outrings_wood(of_q(200))); // tan delta 0.005
    CHECK(outrings_wood(of_q(600)));
    CHECK(outrings_wood(of_q(5000)));
    CHECK_FALSE(outrings_wood({}));
    // A faint string beside a plate makes it no glass.
    std::vector<Partial> plate = of_q(60);
    plate.push_back({.frequency_hz = 440, .q = 1500, .level_db = -25});
    CHECK_FALSE(outrings_wood(plate));
}
