#include "office/form_reader.hpp"

#include <catch2/catch.hpp>

using namespace tarewell::office;

TEST_CASE("a form of names and values is read as the WHATWG writes it", "[office][form]") {
    // R: URL Standard, section 5.1: + is a space, %XX a byte, & between the pairs
    const auto read = read_urlencoded("net=1%2C234.5&who=Ruth+Ames&reason=a%3Db%26c&empty=&bare");
    REQUIRE(read);
    CHECK(read->text("net") == "1,234.5");
    CHECK(read->text("who") == "Ruth Ames");
    CHECK(read->text("reason") == "a=b&c");
    CHECK((read->has("empty") && read->text("empty").empty()));
    CHECK((read->has("bare") && read->text("bare").empty()));
    CHECK_FALSE(read->has("nothing"));
    CHECK(read_urlencoded("")->fields().empty());
}

TEST_CASE("a name that comes twice counts as not there", "[office][form]") {
    const auto read = read_urlencoded("token=a&token=b&net=1");
    REQUIRE(read);
    CHECK_FALSE(read->has("token"));
    CHECK(read->text("token").empty());
    CHECK(read->has("net"));
}

TEST_CASE("what no form of ours sends is refused whole", "[office][form]") {
    for (const auto* bad : {"a=%", "a=%4", "a=%zz", "a=%00", "%00=a", "=a", "a=1&&b=2", "a=1&"})
        CHECK((std::string{bad} == "a=1&" ? read_urlencoded(bad).has_value() : !read_urlencoded(bad)));
    form_limits narrow;
    narrow.fields = 2;
    narrow.name = 3;
    narrow.value = 4;
    CHECK(read_urlencoded("a=1&b=2", narrow));
    CHECK_FALSE(read_urlencoded("a=1&b=2&c=3", narrow));
    CHECK(read_urlencoded("abc=1234", narrow));
    CHECK_FALSE(read_urlencoded("abcd=1", narrow));
    CHECK_FALSE(read_urlencoded("a=12345", narrow));
}

namespace {
/// R: RFC 7578, section 4.2, and RFC 2046, section 5.1: CR LF before each boundary belongs to it.
const std::string two_parts = "--edge\r\nContent-Disposition: form-data; name=\"kind\"\r\n\r\nreceipt\r\n--edge\r\n"
                              "Content-Disposition: form-data; name=\"file\"; filename=\"a b.csv\"\r\nContent-Type: "
                              "text/csv\r\n\r\nx,y\r\n1,2\r\n\r\n--edge--\r\n";
} // namespace

TEST_CASE("a form with a file is read byte for byte", "[office][form]") {
    const auto read = read_form("multipart/form-data; boundary=edge", two_parts);
    REQUIRE(read);
    CHECK(read->text("kind") == "receipt");
    REQUIRE(read->find("file") != nullptr);
    CHECK(read->find("file")->file_name == "a b.csv");
    CHECK(read->find("file")->value == "x,y\r\n1,2\r\n");
    std::string binary{"\0\r\n--edg\xff", 9};
    const auto raw = read_multipart(
        "--zz\r\nContent-Disposition: form-data; name=\"f\"; filename=\"x\"\r\n\r\n" + binary + "\r\n--zz--", "zz");
    REQUIRE(raw);
    CHECK(raw->find("f")->value == binary);
}

TEST_CASE("a damaged form with a file is refused whole", "[office][form]") {
    const auto read = [](std::string text) { return read_multipart(text, "edge").has_value(); };
    const auto with = [](const std::string& from, const std::string& to) {
        auto text = two_parts;
        text.replace(text.find(from), from.size(), to);
        return text;
    };
    CHECK(read(two_parts));
    CHECK_FALSE(read("preamble" + two_parts));
    CHECK_FALSE(read(two_parts + "more"));
    CHECK_FALSE(read(with("form-data", "attachment")));
    CHECK_FALSE(read(with(" name=\"kind\"", "")));
    CHECK_FALSE(read(with("name=\"kind\"", "name=\"kind\"; name=\"other\"")));
    CHECK_FALSE(read(with("name=\"kind\"", "name=kind")));
    CHECK_FALSE(read(with("name=\"kind\"", "name=\"\"")));
    CHECK_FALSE(read(with("Content-Type", "X-Smuggled")));
    CHECK_FALSE(read(with("--edge--", "--edge")));
    CHECK_FALSE(read(with("\r\n\r\nreceipt", "\r\nreceipt")));
    CHECK_FALSE(read(with("receipt", std::string{"rec\0ipt", 7})));
    for (std::size_t length = 0; length + 2 < two_parts.size(); ++length) // cut anywhere but after the last boundary
        CHECK_FALSE(read(two_parts.substr(0, length)));
    CHECK_FALSE(read_multipart(two_parts, ""));
    CHECK_FALSE(read_multipart(two_parts, std::string(71, 'e')));
    CHECK_FALSE(read_form("text/plain", "a=1"));
    CHECK_FALSE(read_form("application/x-www-form-urlencodedx", "a=1"));
    CHECK(read_form("application/x-www-form-urlencoded; charset=UTF-8", "a=1"));
}
