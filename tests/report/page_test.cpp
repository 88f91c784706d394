// Every word of a ledger that comes into the page is escaped, what can be heard is the tap, and the
// page is whole in each language.
#include "report/page/page.hpp"
#include "report/page/page_sound.hpp"
#include "report/sheet/markup.hpp"
#include "support/catch.hpp"
#include "wording/language.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <numbers>
#include <stdexcept>

using namespace platewright;

namespace {

std::string from_base64(std::string_view text) {
    std::string bytes;
    std::uint32_t group = 0;
    int bits = 0;
    constexpr std::string_view digits =
        "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    for (const char c : text) {
        const auto digit = digits.find(c);
        if (digit == std::string_view::npos)
            break;
        group = (group << 6U) | static_cast<std::uint32_t>(digit);
        bits += 6;
        if (bits >= 8) {
            bits -= 8;
            bytes += static_cast<char>((group >> static_cast<unsigned>(bits)) & 0xFFU);
        }
    }
    return bytes;
}

std::uint32_t little(std::string_view bytes, std::size_t at, std::size_t count) {
    std::uint32_t value = 0;
    for (std::size_t i = count; i-- > 0;)
        value = (value << 8U) | static_cast<unsigned char>(bytes[at + i]);
    return value;
}

taps::Tap ringing(double rate, double hz, double above_hz) {
    taps::Tap tap;
    tap.sample_rate_hz = rate;
    tap.onset_index = static_cast<std::size_t>(0.1 * rate);
    tap.samples.resize(static_cast<std::size_t>(1.5 * rate), 0.0F);
    for (std::size_t i = tap.onset_index; i < tap.samples.size(); ++i) {
        const double t = static_cast<double>(i - tap.onset_index) / rate;
        tap.samples[i] = static_cast<float>(0.1 * std::exp(-5.0 * t) *
                                                std::sin(2.0 * std::numbers::pi * hz * t) +
                                            0.1 * std::sin(2.0 * std::numbers::pi * above_hz * t));
    }
    return tap;
}

/// The amplitude of one frequency in the WAV's first second.
double amplitude(std::string_view wav, double hz) {
    const double rate = little(wav, 24, 4);
    double re = 0.0, im = 0.0;
    const auto count = static_cast<std::size_t>(0.8 * rate);
    for (std::size_t i = 0; i < count; ++i) {
        const auto sample = static_cast<std::int16_t>(little(wav, 44 + 2 * i, 2));
        const double turn = 2.0 * std::numbers::pi * hz * static_cast<double>(i) / rate;
        re += sample * std::cos(turn);
        im += sample * std::sin(turn);
    }
    return 2.0 * std::hypot(re, im) / static_cast<double>(count);
}

report::RecordPage hostile() {
    const std::string words = "<script>alert(1)</script>\" onload='x' &amp; \x1b[0m";
    report::RecordPage page;
    page.version = "0";
    page.sheet.instrument = {.label = words, .notes = words};
    report::PlateSheet plate;
    plate.history.instrument = page.sheet.instrument;
    plate.history.plate = {.id = 7, .label = words, .wood = words, .notes = words};
    ledger::SessionHistory session;
    session.session = {.id = 3, .plate = 7, .mass_g = 100.5, .notes = words};
    plate.history.sessions.push_back(session);
    plate.drift = trends::drift(plate.history);
    page.sheet.plates.push_back(std::move(plate));
    page.taps.push_back({3, taps::Spot::centre, ringing(48000, 350, 20000)});
    return page;
}

} // namespace

TEST_CASE("Words from a ledger can't become markup") {
    CHECK(report::escaped("a<b>&\"'") == "a&lt;b&gt;&amp;&#34;&#39;");
    CHECK(report::escaped("\x1b[0m\xff") == "\xef\xbf\xbd[0m\xef\xbf\xbd");
    report::Markup markup;
    markup.open("p", {{"title", "\"><script>"}});
    CHECK(markup.str() == "<p title=\"&#34;&gt;&lt;script&gt;\">");
    CHECK_THROWS_AS(markup.close("div"), std::invalid_argument);
}

TEST_CASE("A page of hostile words holds no element of theirs, in any language") {
    for (const wording::Language language : wording::k_languages) {
        const wording::Speaking speaking(language);
        const std::string text = report::record_page(hostile(), base::Timestamp{});
        CHECK(text.find("<script>alert") == std::string::npos);
        CHECK(text.find("' onload") == std::string::npos);
        CHECK(text.find('\x1b') == std::string::npos);
        std::size_t scripts = 0;
        for (auto at = text.find("<script"); at != std::string::npos;
             at = text.find("<script", at + 1))
            ++scripts;
        CHECK(scripts == 1);
        CHECK(text.find("lang=\"" + std::string(wording::to_code(language))) != std::string::npos);
        CHECK(text.find("data:audio/wav;base64,") != std::string::npos);
        CHECK(text.ends_with("</html>\n"));
    }
}

TEST_CASE("Notes are left out of a page where that is said") {
    report::RecordPage page = hostile();
    page.sheet.plates[0].history.sessions[0].session.notes = "for my eyes only";
    CHECK(report::record_page(page, {}).find("for my eyes only") != std::string::npos);
    page.with_notes = false;
    CHECK(report::record_page(page, {}).find("for my eyes only") == std::string::npos);
    CHECK(report::record_page(page, {}).find("class=\"note\"") == std::string::npos);
}

TEST_CASE("The tap to be heard keeps what a plate rings with and nothing folded down") {
    for (const double rate : {8000.0, 44100.0, 48000.0, 96000.0, 192000.0}) {
        // A tone over the new rate's half, which would fold to within it.
        const double above = rate > 40000.0 ? 0.42 * rate : 1000.0;
        const std::string address = report::sound_address(ringing(rate, 350.0, above));
        REQUIRE(address.starts_with("data:audio/wav;base64,"));
        const std::string wav = from_base64(address.substr(address.find(',') + 1));
        CHECK(wav.substr(0, 4) == "RIFF");
        CHECK(little(wav, 4, 4) + 8 == wav.size());
        CHECK(little(wav, 40, 4) + 44 == wav.size());
        const double heard_rate = little(wav, 24, 4);
        CHECK(heard_rate <= 26000.0);
        CHECK(heard_rate >= std::min(rate, 20000.0));
        CHECK(static_cast<double>(wav.size() - 44) / 2.0 / heard_rate ==
              Approx(report::k_heard_s).margin(0.01));
        if (rate > 40000.0) {
            const double folded = std::abs(std::remainder(above, heard_rate));
            INFO("rate " << rate << ", folded to " << folded);
            CHECK(amplitude(wav, folded) < 1e-3 * amplitude(wav, 350.0));
        }
    }
}

TEST_CASE("A tap without sound gives no address") {
    CHECK(report::sound_address({}).empty());
    taps::Tap silent = ringing(48000, 350, 100);
    std::ranges::fill(silent.samples, 0.0F);
    CHECK(report::sound_address(silent).empty());
    silent.onset_index = silent.samples.size() + 100000;
    CHECK(report::sound_address(silent).empty());
}
