#include "audio/on_call.hpp"
#include "support/catch.hpp"

#include <cmath>
#include <stdexcept>

using namespace platewright;

namespace {

/// A recording whose samples are their own numbers, so that what is heard tells where it stands.
class Numbered final : public audio::Source {
public:
    explicit Numbered(std::size_t count) : samples_(count) {
        for (std::size_t i = 0; i < count; ++i)
            samples_[i] = static_cast<float>(i);
    }
    double sample_rate_hz() const override { return 1000; }
    audio::Block read() override { return {.samples = samples_, .ended = true}; }

private:
    std::vector<float> samples_;
};

std::vector<float> heard(audio::OnCall& source, int blocks) {
    std::vector<float> all;
    for (int i = 0; i < blocks; ++i) {
        const audio::Block block = source.read();
        CHECK_FALSE(block.ended);
        all.insert(all.end(), block.samples.begin(), block.samples.end());
    }
    return all;
}

} // namespace

TEST_CASE(
    "until a strike is called the quiet before the first is heard, to and fro without a leap") {
    Numbered recording(6000);
    audio::OnCall source(recording, {0.5, 2.0, 4.0});
    const auto quiet = heard(source, 200);
    REQUIRE(quiet.size() == 4000);
    for (std::size_t i = 0; i < quiet.size(); ++i) {
        CHECK(quiet[i] < 400); // 0.1 s before the first strike it ends
        if (i > 0)
            CHECK(std::abs(quiet[i] - quiet[i - 1]) <= 1.0F);
    }
}

TEST_CASE(
    "a strike that is called sounds once and whole, and a call while it sounds is not heard") {
    Numbered recording(6000);
    audio::OnCall source(recording, {0.5, 2.0, 4.0});
    CHECK(source.call(1));
    CHECK_FALSE(source.call(2));
    const auto strike = heard(source, 75); // 0.1 s before it, 1.4 s from it on
    CHECK(strike.front() == 1900);
    CHECK(strike.back() == 3399);
    CHECK(heard(source, 1).front() < 400);
    CHECK(source.call(0));
    CHECK(heard(source, 70).back() == 1799); // the next one's own beginning is not heard
    CHECK(heard(source, 10).back() < 400);
}

TEST_CASE("strikes that can't lie so in a recording are a wrong call") {
    Numbered recording(6000);
    using Strikes = std::vector<double>;
    for (const Strikes& strikes : {Strikes{}, Strikes{0.1}, Strikes{2.0, 1.0}, Strikes{0.5, 7.0}})
        CHECK_THROWS_AS(audio::OnCall(recording, strikes), std::invalid_argument);
}
