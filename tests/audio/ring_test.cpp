#include "audio/ring.hpp"
#include "support/catch.hpp"
#include "support/forbidden.hpp"

#include <limits>
#include <thread>
#include <vector>

using platewright::audio::SampleRing;

namespace {

std::vector<float> counting(std::size_t count, std::size_t from = 0) {
    std::vector<float> samples(count);
    for (std::size_t i = 0; i < count; ++i)
        samples[i] = static_cast<float>(from + i);
    return samples;
}

} // namespace

TEST_CASE("one channel of interleaved frames comes out as it went in") {
    SampleRing ring;
    const std::vector<float> frames{0, 10, 1, 11, 2, 12};
    ring.write(frames.data(), 3, 2, 1, false);
    std::vector<float> out;
    CHECK(ring.read(out, 4800) == 0);
    CHECK(out == std::vector<float>{10, 11, 12});
    CHECK(ring.read(out, 4800) == 0);
    CHECK(out.empty());
}

TEST_CASE("what finds no room is counted, and the gap keeps its place") {
    SampleRing ring;
    const auto slot = counting(SampleRing::k_slot_frames);
    for (std::size_t i = 0; i < SampleRing::k_slots + 3; ++i)
        ring.write(slot.data(), slot.size(), 1, 0, false);
    CHECK(ring.overruns() == 3);
    std::vector<float> out;
    std::size_t frames = 0;
    while (ring.read(out, 4800), !out.empty())
        frames += out.size();
    CHECK(frames == SampleRing::k_slots * SampleRing::k_slot_frames);
    ring.write(slot.data(), 10, 1, 0, false);
    CHECK(ring.read(out, 4800) == 3 * static_cast<std::int64_t>(SampleRing::k_slot_frames));
    CHECK(out.size() == 10);
}

TEST_CASE("a read stops short of the next gap") {
    SampleRing ring;
    const auto slot = counting(100);
    ring.write(slot.data(), 100, 1, 0, false);
    ring.write(slot.data(), 50, 1, 0, true);
    std::vector<float> out;
    CHECK(ring.read(out, 4800) == 0);
    CHECK(out.size() == 100);
    CHECK(ring.read(out, 4800) == 1);
    CHECK(out.size() == 50);
    CHECK(ring.overruns() == 1);
}

TEST_CASE("a driver's NaN or infinity is a gap, not sound") {
    SampleRing ring;
    const auto good = counting(100);
    for (const float bad :
         {std::numeric_limits<float>::quiet_NaN(), -std::numeric_limits<float>::infinity()}) {
        auto spoilt = counting(50);
        spoilt[7] = bad;
        ring.write(good.data(), 100, 1, 0, false);
        ring.write(spoilt.data(), 50, 1, 0, false);
        ring.write(good.data(), 100, 1, 0, false);
        std::vector<float> out;
        CHECK(ring.read(out, 4800) == 0);
        CHECK(out == good);
        CHECK(ring.read(out, 4800) == 50);
        CHECK(out == good);
    }
}

TEST_CASE("one thread writes, another reads, and nothing is torn or lost") {
    SampleRing ring;
    constexpr std::size_t blocks = 4000, size = 480;
    std::jthread writer([&] {
        for (std::size_t b = 0; b < blocks; ++b) {
            const auto block = counting(size, b * size % 100000);
            ring.write(block.data(), size, 1, 0, false);
            if (b % 64 == 0)
                std::this_thread::yield();
        }
    });
    std::vector<float> out;
    std::size_t seen = 0;
    while (seen < blocks * size) {
        const bool overrun =
            ring.overruns() >
            0; // a reader held up by the machine: what came before is still in order
        if (ring.read(out, 4800) > 0 || (overrun && out.empty()))
            break;
        for (const float sample : out) {
            const std::size_t expected = seen / size * size % 100000 + seen % size;
            if (sample != static_cast<float>(expected))
                FAIL("sample " << seen << " is " << sample);
            ++seen;
        }
    }
    CHECK(seen > 0);
}

TEST_CASE("the callback's work neither allocates nor locks") {
    SampleRing ring;
    const auto block = counting(4800);
    const auto forbidden = platewright::test::forbidden_calls([&] {
        for (int i = 0; i < 500; ++i) // far past full
            ring.write(block.data(), 2400, 2, 1, i % 7 == 0);
    });
    CHECK(forbidden.allocations == 0);
    CHECK(forbidden.locks == 0);
    CHECK(ring.overruns() > 0);
}

TEST_CASE("the trap itself catches an allocation and a lock") {
    const auto forbidden = platewright::test::forbidden_calls([] {
        std::vector<int> allocated(100);
        platewright::test::lock_once();
        if (allocated[50] != 0)
            FAIL();
    });
    CHECK(forbidden.allocations > 0);
    CHECK(forbidden.locks > 0);
}
