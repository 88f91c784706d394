#include "plate/shape/spots.hpp"
#include "plate/thickness/table_text.hpp"
#include "plate/thickness/thickness.hpp"
#include "support/catch.hpp"
#include "violin.hpp"
#include "wording/language.hpp"

#include <algorithm>
#include <cmath>
#include <random>

using namespace platewright;
using namespace platewright::plate;
using test::violin;

namespace {

// An invented graduation: thick in the middle.
double truth(Point p) {
    const double x = p.x_mm / 100.0, y = (p.y_mm - 177.0) / 177.0;
    return 2.6 + 1.7 * std::exp(-2.2 * y * y - 2.5 * x * x) + 0.1 * x;
}

std::vector<ThicknessReading> readings_on_grid(double step_mm, double noise_mm) {
    std::mt19937 random(7);
    std::normal_distribution<double> noise(0.0, 1.0);
    std::vector<ThicknessReading> readings;
    for (const auto& p : grid_inside(violin(), step_mm))
        readings.push_back({p, truth(p) + noise_mm * noise(random), ""});
    return readings;
}

std::string refusal(std::vector<ThicknessReading> readings) {
    const auto fault = fault_in(readings, violin());
    return fault ? fault->what : "";
}

/// What a table of the usual violin holds; its refusal where it is none.
std::vector<ThicknessReading> readings_in(std::string_view text) {
    const auto read = thickness_from_csv(text, violin());
    INFO(text << (read ? "" : read.fault().what));
    REQUIRE(read);
    return *read;
}

bool says(const std::string& text, std::string_view part) {
    return text.find(part) != std::string::npos;
}

} // namespace

TEST_CASE("the surface goes through dense readings and its deviation tells its error") {
    const ThicknessMap map(readings_on_grid(30.0, 0.05), violin());
    double worst = 0.0, scaled = 0.0;
    int count = 0;
    for (const auto& p : grid_inside(violin(), 9.0)) {
        const double error = map.thickness_mm(p) - truth(p);
        worst = std::max(worst, std::abs(error));
        scaled += std::pow(error / map.sd_mm(p), 2);
        ++count;
    }
    CHECK(worst < 0.2);
    // mean square of error over deviation is near 1 where deviations are honest
    CHECK(scaled / count > 0.2);
    CHECK(scaled / count < 2.0);
}

TEST_CASE("deviation grows where readings are sparse, and the next reading goes there") {
    auto readings = readings_on_grid(30.0, 0.0);
    std::erase_if(readings, [](const auto& r) { return r.at.y_mm > 250.0; });
    const ThicknessMap map(readings, violin());
    CHECK(map.sd_mm({0.0, 310.0}) > 4.0 * map.sd_mm({0.0, 120.0}));
    const auto facts = describe(map, violin());
    CHECK(facts.next_reading.y_mm > 250.0);
    CHECK(facts.worst_sd_after_mm < facts.worst_sd_mm);
}

TEST_CASE("the facts of a map are those of the surface it was made from") {
    const ThicknessMap map(readings_on_grid(20.0, 0.0), violin());
    const auto facts = describe(map, violin());
    CHECK(facts.middle_mm == Approx(4.2).margin(0.15));
    CHECK(facts.middle_to_edge == Approx(facts.middle_mm / facts.edge_mm));
    CHECK(facts.middle_to_edge > 1.3);
    CHECK(facts.left_less_right_mm == Approx(-0.1).margin(0.02)); // 0.1 mm over 100 mm, arms 50 mm
    CHECK(facts.thinnest.x_mm < 0.0);
    CHECK(facts.thinnest_mm == Approx(truth(facts.thinnest)).margin(0.05));
}

TEST_CASE("a refusal is said in the maker's language, with its decimal mark") {
    auto bad = readings_on_grid(40.0, 0.0);
    bad[2].thickness_mm = 27.5;
    const auto in = [&bad](wording::Language language) {
        const wording::Speaking speaking(language);
        return refusal(bad);
    };
    const std::string german = in(wording::Language::german);
    CHECK(says(german, "Messung 3"));
    CHECK(says(german, "27,5 mm ist dicker als jede Platte"));
    CHECK(says(in(wording::Language::italian), "27,5 mm è più spesso"));
    CHECK(says(refusal(bad), "27.5 mm is thicker than any plate"));
}

TEST_CASE("bad readings are refused, naming the reading, and nothing is stored") {
    const auto good = readings_on_grid(40.0, 0.0);
    CHECK(refusal(good).empty());
    CHECK(says(refusal({good[0]}), "at least three"));
    auto bad = good;
    bad[4].thickness_mm = -2.1;
    bad[4].name = "post";
    CHECK(says(refusal(bad), "Reading 5 (\"post\")"));
    CHECK(says(refusal(bad), "no thickness"));
    bad = good;
    bad[2].thickness_mm = 27.0; // 2.7 without its point
    CHECK(says(refusal(bad), "Reading 3"));
    bad = good;
    bad[3].at = {140.0, 180.0};
    CHECK(says(refusal(bad), "Reading 4"));
    CHECK(says(refusal(bad), "outside the outline"));
    bad = good;
    bad[6].at = bad[1].at;
    CHECK(says(refusal(bad), "same place as reading 2"));
    bad = good;
    bad[1].thickness_mm = std::nan("");
    CHECK(says(refusal(bad), "Reading 2"));
    bad = good;
    bad[7].thickness_mm /= 25.4; // one among millimetres
    CHECK(says(refusal(bad), "Reading 8"));
    CHECK(says(refusal(bad), "inches"));
    bad = good;
    for (auto& r : bad)
        r.thickness_mm /= 25.4;
    CHECK(says(refusal(bad), "inches"));
    bad = good;
    for (auto& r : bad)
        r.thickness_mm *= 10.0;
    CHECK(says(refusal(bad), "tenths"));
    CHECK_THROWS_AS(ThicknessMap(bad, violin()), std::invalid_argument);
}

TEST_CASE("readings come from pasted text in the forms people use") {
    for (const auto* text :
         {"x;y;mm\n0;100;2,9\n20,5;150;3,1\ncentre;4,2\n", "0,100,2.9\n20.5,150,3.1\ncentre,4.2\n",
          "0 100 2,9\n20,5 150 3,1\ncentre 4,2\n",
          "# bench notes\n0\t100\t2.9\r\n20.5\t150\t3.1\r\ncentre\t4.2\r\n"}) {
        INFO(text);
        const auto read = readings_in(text);
        REQUIRE(read.size() == 3);
        CHECK(read[1].at.x_mm == Approx(20.5));
        CHECK(read[0].thickness_mm == Approx(2.9));
        CHECK(read[2].name == "centre");
        CHECK(read[2].at.y_mm == Approx(177.5));
    }
    const auto bad = thickness_from_csv("0,100,2.9\n1,2,3,4\n", violin());
    REQUIRE_FALSE(bad);
    CHECK(says(bad.fault().what, "three readings")); // four numbers are a number column and three
    // a first line that begins like a reading is no headline
    for (const auto* text : {"0;100;nan\n0;120;3\n10;140;3\n20;150;3\n",
                             "centre;thick\n0;120;3\n10;140;3\n20;150;3\n"}) {
        const auto spoilt = thickness_from_csv(text, violin());
        REQUIRE_FALSE(spoilt);
        CHECK(says(spoilt.fault().what, "Line 1"));
    }
    // Quoted is as much of a line as shows which it is, and no letter is cut in two.
    std::string long_line = "\u00fc";
    for (int i = 0; i < 200; ++i)
        long_line += " 30; 377; 3.31";
    const auto endless = thickness_from_csv(long_line + "\n0; 100; 2.9\n1;2;3;4\n", violin());
    REQUIRE_FALSE(endless);
    CHECK(endless.fault().what.size() < 200);
    CHECK(as_quoted("0; 100; 2.9") == "0; 100; 2.9");
    std::string umlauts, forty;
    for (std::size_t i = 0; i < k_most_quoted + 1; ++i) {
        forty = umlauts;
        umlauts += "\u00fc";
    }
    CHECK(as_quoted(umlauts) == forty + "\u2026");
    CHECK(as_quoted(forty) == forty);
    const auto unknown = thickness_from_csv("0,100,2.9\nnowhere,3.0\n", violin());
    REQUIRE_FALSE(unknown);
    CHECK(says(unknown.fault().what, "nowhere"));
}

TEST_CASE("caliper tables are read as makers type them") {
    const auto violin_centre = *named_place(violin(), "centre");
    const auto upper_left = *named_place(violin(), "upper_bout_left");
    // Latin-1: "Stärke" and "mm"; made UTF-8 when the file is read
    const std::string german =
        as_utf8("Nr.;Ort;St\xe4rke;Bemerkung\n;;mm;\n1;Mitte;4,2;fest\n"
                "2;Oberbug links;2,9 mm;\n3;unteres Ende;3,6;gemessen 14.3.2026\n");
    for (const std::string& text :
         {german,
          std::string("posto\tspessore\ncentro\t4,2\nlobo superiore, sinistra\t2,9\nestremo "
                      "inferiore\t3,6\n"),
          std::string("place,thickness\ncentre,4.2\n\"upper bout, left\",2.9\nLower End,3.6 mm\n"),
          std::string(
              "spot;reading;remark\rcentre;4,2;\rupper bout left;2,9;thin\rlower end;3,6;\r"),
          std::string("thickness;place\n4,2;centre\n2,9;upper_bout_left\n3,6;lower_end\n")}) {
        INFO(text);
        const auto read = readings_in(text);
        REQUIRE(read.size() == 3);
        CHECK(read[0].thickness_mm == Approx(4.2));
        CHECK(read[0].at.y_mm == Approx(violin_centre.y_mm));
        CHECK(read[1].thickness_mm == Approx(2.9));
        CHECK(read[1].at.x_mm == Approx(upper_left.x_mm));
        CHECK(read[2].thickness_mm == Approx(3.6));
    }
}

TEST_CASE("a column of numbers, remarks and six heading lines stand in the way of no reading") {
    for (const char* text :
         {"no;x;y;t;remark\n;mm;mm;mm;\n1;0;100;2,9;\n2;20,5;150;3,1;by the "
          "joint\n3;-20;200;3,4;\n",
          "Wren back\nmeasured 14.3.2026\nby the window\nafter scraping\nno x y t\n- mm mm mm\n"
          "1 0 100 2,9\n2 20,5 150 3,1\n3 -20 200 3,4\n",
          "Wren back, measured 14.3.2026\nno x y t\n1 0 100 2,9\n2 20,5 150 3,1\n3 -20 200 3,4\n",
          "x [cm];y [cm];d\n0;10;2,9;\n2,05;15;3,1;at the joint\n-2;20;3,4;\n",
          "x mm;y mm;thickness (1/10 mm)\n0;100;29\n20,5;150;31\n-20;200;34\n"}) {
        INFO(text);
        const auto read = readings_in(text);
        REQUIRE(read.size() == 3);
        CHECK(read[1].at.x_mm == Approx(20.5));
        CHECK(read[1].at.y_mm == Approx(150));
        CHECK(read[1].thickness_mm == Approx(3.1));
        CHECK(read[2].at.x_mm == Approx(-20));
    }
    const auto inches = thickness_from_csv(
        "x;y;thickness (inches)\n0;100;0,11\n20;150;0,12\n0;200;0,13\n", violin());
    REQUIRE_FALSE(inches);
    CHECK(says(inches.fault().what, "in inches"));
}

TEST_CASE("what is no UTF-8 is read as Windows-1252, dashes and marks with it") {
    // Unicode Consortium, CP1252.TXT: the first and last of its own range, a dash, one left open
    CHECK(as_utf8("\x80\x9f\x96\x81") == "\u20ac\u0178\u2013\ufffd");
    CHECK(as_utf8("St\xe4rke \xb0") == "St\u00e4rke \u00b0"); // as in ISO 8859-1
    CHECK(as_utf8("St\u00e4rke \u2013") == "St\u00e4rke \u2013");
    const auto grid = thickness_from_csv(
        as_utf8("-40 0 40\n300 2,6 2,8 2,6\n200 \x96 3,9 \x96\n100 2,9 3,2 2,9\n"), violin());
    REQUIRE(grid);
    CHECK(grid->size() == 7);
}

TEST_CASE("a grid is read with x along its first line, or y, and what is blank is no reading") {
    for (const char* text :
         {"y\\x;-40;0;40\n300;2,6;2,8;2,6\n200;;3,9;-\n100;2,9;3,2;2,9\n",
          "\t-40\t0\t40\n300\t2.6\t2.8\t2.6\n200\t\t3.9\t-\n100\t2.9\t3.2\t2.9\n",
          // as a spreadsheet copies it, and without the blanks at the lines' ends
          "\t-40\t0\t40\n300\t2.6\t2.8\t2.6\n200\t\t3.9\t\n100\t2.9\t3.2\t2.9\n",
          "\t-40\t0\t40\t\n300\t2.6\t2.8\t2.6\t\n200\t\t3.9\n100\t2.9\t3.2\t2.9\t\n",
          "-40;0;40\n300;2,6;2,8;2,6\n200;;3,9\n100;2,9;3,2;2,9\n",
          "Wren back\n-40 0 40\n300 2,6 2,8 2,6\n200 - 3,9 -\n100 2,9 3,2 2,9\n",
          "x\\y;300;200;100\n-40;2,6;;2,9\n0;2,8;3,9;3,2\n40;2,6;;2,9\n"}) {
        INFO(text);
        const auto read = readings_in(text);
        REQUIRE(read.size() == 7);
        const auto middle = std::find_if(read.begin(), read.end(), [](const auto& r) {
            return r.at.x_mm == 0.0 && r.at.y_mm == 200.0;
        });
        REQUIRE(middle != read.end());
        CHECK(middle->thickness_mm == Approx(3.9));
    }
}

TEST_CASE("words of a heading are not taken for inches") {
    for (const char* text :
         {"Ort;St\xc3\xa4rke in mm\nMitte;4,4\nOberbug links;2,8\nUnterbug links;2,9\n",
          "punto;spessore in mm\ncentre;4,4\nupper_end;2,9\nlower_end;3,0\n",
          "Messung in der Werkstatt\nOrt;mm\ncentre;4,4\nupper_end;2,9\nlower_end;3,0\n",
          "Nr.;x;y;mm\n1;0;100;2,9\n2;20;150;3,1\n4;-20;200;3,0\n",
          "Oberb\xc3\xbcgel links;2,8\nUnterbuegel rechts;2,9\ncenter;4,4\n",
          "Ort;x;y;Dicke in mm\na;0;100;2,9\nb;20;150;3,1\nc;-20;200;3,0\n"}) {
        CHECK_FALSE(readings_in(text).empty());
    }
    for (const char* head : {"thickness (in)", "thickness in", "in", "Dicke in Zoll"}) {
        const auto read = thickness_from_csv(
            std::string("x;y;") + head + "\n0;100;0,11\n20;150;0,12\n0;200;0,13\n", violin());
        INFO(head);
        REQUIRE_FALSE(read);
        CHECK(says(read.fault().what, "inches"));
    }
}

TEST_CASE("a rough double bass is thicker than a violin in tenths of a millimetre") {
    const auto bass = *make_outline(usual_size(modes::InstrumentKind::double_bass));
    const std::string text = "centre;18,5\nupper_end;17\nlower_end;17,5\n";
    CHECK(thickness_from_csv(text, bass));
    CHECK(says(thickness_from_csv(text, violin()).fault().what, "tenths"));
    OutlineSize large = usual_size(modes::InstrumentKind::double_bass);
    for (double* measure : {&large.length_mm, &large.upper_mm, &large.waist_mm, &large.lower_mm})
        *measure *= 1.05;
    CHECK(outline_from_points(make_outline(large)->rim));
}
