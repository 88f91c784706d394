#include "trends/decision/name_doubt.hpp"

#include "wording/say.hpp"

namespace platewright::trends {

std::string doubt_beside(const modes::Naming& naming, const Decision& decision) {
    const bool names_spot = decision.advice == Advice::tap && decision.spot != taps::Spot::unknown;
    if (naming.doubt.empty() || !naming.ask_spot || names_spot)
        return naming.doubt;
    return naming.doubt + ' ' +
           wording::say("A tap at this spot would help: {}.", taps::to_text(*naming.ask_spot));
}

} // namespace platewright::trends
