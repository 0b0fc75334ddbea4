#include "records/season.hpp"
#include "reconcile/reckoning.hpp"

#include <catch2/catch.hpp>

#include <concepts>
#include <type_traits>

// Each static_assert of this file is the test: the file does not compile when types mix. The
// expressions stand in concepts, since outside a template what is ill-formed is an error at once.
namespace {

using namespace tarewell;
using quantity::length;
using quantity::mils;
using quantity::money;
using quantity::weight;

template <class A, class B>
concept adds = requires(A a, B b) {
    a + b;
};
template <class A, class B>
concept subtracts = requires(A a, B b) {
    a - b;
};
template <class A, class B>
concept grows_by = requires(A a, B b) {
    a += b;
};
template <class A, class B>
concept orders = requires(A a, B b) {
    a < b;
};
template <class A, class B>
concept equals = requires(A a, B b) {
    a == b;
};
template <class A, class B>
concept multiplies = requires(A a, B b) {
    a* b;
};

// The concepts can tell: within one kind all of it is well-formed.
static_assert(adds<weight, weight> && subtracts<weight, weight> && grows_by<weight, weight>);
static_assert(orders<weight, weight> && equals<weight, weight> && orders<money, money>);

static_assert(!adds<money, weight> && !adds<weight, money>);
static_assert(!subtracts<money, weight> && !grows_by<weight, money> && !grows_by<money, weight>);
static_assert(!orders<weight, money> && !equals<weight, money>);
static_assert(!adds<weight, int> && !grows_by<money, std::int64_t> && !orders<weight, int>);
static_assert(!multiplies<weight, weight> && !multiplies<money, money>);
static_assert(!std::is_convertible_v<std::int64_t, weight> && !std::is_convertible_v<weight, std::int64_t>);
static_assert(!std::is_convertible_v<weight, double> && !std::is_convertible_v<double, money>);
static_assert(!std::is_constructible_v<weight, money> && !std::is_constructible_v<money, weight>);
static_assert(!std::is_constructible_v<length, mils> && !std::is_constructible_v<mils, length>);
static_assert(!std::is_convertible_v<quantity::quarter, quantity::day>);

// Ids name one kind of record each.
static_assert(equals<records::bundle_id, records::bundle_id> && orders<records::bale_id, records::bale_id>);
static_assert(!equals<records::bale_id, records::bundle_id> && !orders<records::bale_id, records::bundle_id>);
static_assert(!std::is_constructible_v<records::bundle_id, records::bale_id>);
static_assert(!std::is_assignable_v<records::bundle_id&, records::bale_id>);
static_assert(!std::is_convertible_v<std::string, records::bundle_id>);
static_assert(!std::is_convertible_v<records::bundle_id, std::string>);

// Places stand for an index into the vector of one kind.
static_assert(equals<records::bale_place, records::bale_place>);
static_assert(!equals<records::bale_place, records::bundle_place>);
static_assert(!std::is_constructible_v<records::bundle_place, records::bale_place>);
static_assert(!std::is_assignable_v<records::bundle_place&, records::bale_place>);
static_assert(!std::is_convertible_v<std::size_t, records::bundle_place>);
static_assert(!std::is_convertible_v<records::bundle_place, std::size_t>);

template <class Place>
concept labels_in = requires(const records::season& s, Place p) {
    s.find_bundle(p, 1);
};
static_assert(labels_in<records::registration_place>);
static_assert(!labels_in<records::bale_place> && !labels_in<records::bundle_place> && !labels_in<int>);

template <class Place>
concept has_estimate = requires(const records::season& s, Place p) {
    records::worked_out_estimate(s, p);
};
static_assert(has_estimate<records::registration_place> && !has_estimate<records::bundle_place>);

template <class Place>
concept has_outcome = requires(const reconcile::reckoning& r, Place p) {
    r.at(p);
};
static_assert(has_outcome<records::bundle_place> && has_outcome<records::bale_place>);
static_assert(!has_outcome<records::shipment_place> && !has_outcome<std::size_t>);

template <class Place, class Record>
concept finds = requires(const records::season& s, Place p) {
    { s.at(p) } -> std::same_as<const Record&>;
};
static_assert(finds<records::bale_place, records::bale> && finds<records::bundle_place, records::bundle>);
static_assert(!finds<records::bale_place, records::bundle> && !finds<records::bundle_place, records::bale>);

} // namespace

TEST_CASE("a default place stands for none and every other for one") {
    CHECK_FALSE(bool{records::bundle_place{}});
    CHECK(bool{records::bundle_place{0}});
    CHECK(records::bundle_place{7}.index() == 7);
}

TEST_CASE("ids are case-sensitive texts in the order of their bytes") {
    using records::bundle_id;
    CHECK(bundle_id{"B1"} == bundle_id{"B1"});
    CHECK_FALSE(bundle_id{"B1"} == bundle_id{"b1"});
    CHECK(bundle_id{"B10"} < bundle_id{"B2"});
    CHECK(bundle_id{"Z"} < bundle_id{"a"});
    CHECK(bundle_id{"z"} < bundle_id{"\xC3\xA4"});
    CHECK(std::hash<bundle_id>{}(bundle_id{"B1"}) == std::hash<bundle_id>{}(bundle_id{"B1"}));
}
