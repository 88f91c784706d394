#include "speed/detection/sounds.hpp"
#include "strike.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace detection {

Signal plate_strike(Family family, Random& random) {
    // Modes 1 to 5 of free violin plates lie near these (trade figures of published tables,
    // rounded); a cello's plates lie near 0.33 of them, a viola's near 0.72.
    const double size = (family == Family::violin  ? 1.0
                         : family == Family::viola ? 0.72
                                                   : 0.33) *
                        random.between(0.88, 1.12);
    std::vector<double> hz{92, 165, 225, 250, 355};
    for (double next = 420; next < 2200; next += random.between(40, 90))
        hz.push_back(next);
    demo::Session session;
    session.sound_s = 2.5;
    session.contact_ms = random.between(1.5, 4);
    for (const double at : hz) {
        demo::Mode mode;
        mode.number = static_cast<int>(session.modes.size()) + 1;
        mode.hz = at * size * random.between(0.95, 1.05);
        // T60 = 2.2 Q / f.
        mode.q = std::min(30 * std::pow(100.0 / 30, random.even()), 2 * mode.hz / 2.2);
        mode.radiates = random.between(0.1, 1);
        mode.shape["here"] = random.between(-1, 1);
        session.modes.push_back(mode);
    }
    const std::vector<demo::Hold> holds(session.modes.size(), demo::hold_of_session(random));
    return demo::strike(session, "here", holds, k_rate_hz, random).sound;
}

} // namespace detection
