#include "partials.hpp"
#include "support/catch.hpp"

using namespace platewright;

using test::partial;
using test::tap_of;

TEST_CASE("taps are in a room that answers where their Q is surer by the noise than it says") {
    // Of a decaying sinusoid in noise alone the deviation of Q is that of ln a, times the root of
    // two (Fisher's information): 0.1 dB of the level leave 1.6 % of Q.
    const auto in_room = [](double q_sd, double level_sd_db) {
        modes::Partial p = partial(349);
        p.q_sd = q_sd * p.q;
        p.level_sd_db = level_sd_db;
        return modes::is_in_room(std::vector{tap_of({p, p, p})});
    };
    CHECK_FALSE(in_room(0.016, 0.1));
    CHECK_FALSE(in_room(0.16, 1));
    CHECK(in_room(0.1, 0.1));
    CHECK(in_room(0.25, 1));
    CHECK_FALSE(modes::is_in_room({}));
}
