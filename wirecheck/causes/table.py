"""The one table of causes: a problem of the first kind hides one of the second where the relation holds.

No rule knows another. A row is read: where there is a CAUSE, an EFFECT that is so RELATED to it
follows from it, BECAUSE.
"""

from __future__ import annotations

from typing import NamedTuple

from wirecheck.causes.relations import (
    Relation,
    all_among_its_loads,
    all_in_its_machine,
    all_on_reversed_devices,
    all_that_is_reversed,
    among_what_runs,
    among_what_stays_off,
    anywhere,
    are_its_bare_wires,
    are_its_speeds,
    are_on_its_way,
    asks_for_that_breaker_too,
    asks_it_of_that_switch,
    asks_that_motor,
    behind_it,
    behind_that_breaker,
    behind_that_panel,
    behind_those_lugs,
    belongs_on_its_path,
    beside_its_way,
    colored_for_the_other_side,
    comes_to_its_power,
    crossed_in_its_calls,
    dead_lead,
    dead_motor,
    draws_through_it,
    draws_through_its_contacts,
    feed_that_panel,
    feeds_it_by_its_swap,
    from_its_secondary,
    gives_it_power,
    in_its_device,
    in_place_of_its_ground,
    in_that_machine,
    is_its_common,
    is_on_its_lights,
    keeps_it_dark,
    lead_of_its_lost_line,
    lead_that_it_lacks,
    left_empty,
    left_out_relay,
    lights_behind_that_panel,
    makes_no_rest,
    may_be_joined_there,
    meets_at_its_screw,
    mended_by_its_swap,
    missed_motor,
    of_a_reversed_device,
    of_the_same_ground,
    of_those_wires,
    on_its_way,
    on_that_cable,
    one_of_its_loads,
    opens_its_protection,
    opens_its_transformer,
    opens_the_same,
    path_stops_there,
    ran_at_rest,
    runs_at_rest,
    runs_that_machine,
    runs_them_at_rest,
    same_circuit,
    same_conductor,
    same_copper,
    same_join,
    same_line,
    same_load,
    same_place,
    same_screw,
    same_swap,
    same_thing,
    same_transformers,
    same_two,
    says_it_of_that_load,
    says_why_it_is_dead,
    starves,
    stays_off_with_it,
    stops_at_it,
    stops_for_none,
    stops_for_want_of_it,
    swapped_there,
    takes_its_ground,
    that_motor,
    ties_the_two,
    ties_those,
    trips_before_it,
    trips_it,
    unbalances_it,
    waits_for_itself,
    where_hots_meet,
)
from wirecheck.judge.problem import Problem
from wirecheck.rules import (
    ampacity,
    breaker_trips,
    class_2_separation,
    class_2_supply,
    coil_voltage,
    contact_rating,
    overcurrent_protection,
    receptacle_rating,
    terminal_size,
    transformer_load,
    transformer_phase,
    voltage_drop,
    wrong_voltage,
)
from wirecheck.rules.altered_equipment import GuardsNoMore, RunsWithout, StaysOff
from wirecheck.rules.backfeed import FedTwice
from wirecheck.rules.bonded_subpanel import BondedSubpanel
from wirecheck.rules.both_taps import BothTaps
from wirecheck.rules.breaker_neutral import NeutralOnAnother, NeutralOnBar
from wirecheck.rules.call_continuity import NotRunning, OutOfOrder
from wirecheck.rules.call_crosstalk import CrossedUnasked, RunsToo
from wirecheck.rules.call_end import NeverStops
from wirecheck.rules.call_ends_heat import EndsHeat
from wirecheck.rules.capped_call import CappedCall, ToCallers
from wirecheck.rules.conductor_color import (
    POWER_COLORS,
    GroundAsHot,
    HotColorAs,
    MarkedAsNoHot,
    SingleWhiteAsHot,
    UnusualColor,
    WhiteMarked,
    WhiteNotMarked,
    WhiteOnGround,
)
from wirecheck.rules.control_ground import ButtonInGround
from wirecheck.rules.dead_outlet import BoardWithoutPower, CommonOnCall, NeverLive, OnOneSide
from wirecheck.rules.ends_at_once import EndsAtOnce
from wirecheck.rules.ends_by_time import EndsByTime
from wirecheck.rules.energized_metal import LiveMetal
from wirecheck.rules.equipment_ground_fault import Unguarded
from wirecheck.rules.ground_as_neutral import (
    CurrentOnGround,
    GroundOnNeutral,
    NeutralJoinedToGround,
    NeutralOnGround,
)
from wirecheck.rules.ground_fault_protection import OpenEquipment, OpenReceptacle
from wirecheck.rules.held_off import HeldOff
from wirecheck.rules.high_leg import HighLegElsewhere, OnHighLeg
from wirecheck.rules.holding_contact import NeverStarts
from wirecheck.rules.hot_past_contactor import HotPast
from wirecheck.rules.interconnected_alarms import LeadOnPower, LeadsApart
from wirecheck.rules.line_load_reversed import (
    FedFromBehind,
    FedFromBothSides,
    HalfPast,
    SwitchReversed,
    WiredAround,
)
from wirecheck.rules.loose_conductor import LooseEnds, LooseLeads, LooseTail
from wirecheck.rules.missing_wire import Unheard, Unpowered, Unsent, Unused
from wirecheck.rules.motor_overload import LineWithout, NoOverload
from wirecheck.rules.multiwire_circuit import BetweenTwo, NotTogether, OnSameLeg
from wirecheck.rules.neutral_at_switch import NoNeutral
from wirecheck.rules.open_ground import FlexibleGround, LeadsNowhere, OpenGround, SwitchedGround
from wirecheck.rules.open_splice import OpenGrounds, OpenNeutrals
from wirecheck.rules.out_and_back import Apart
from wirecheck.rules.own_contact import StopsItself, WaitsForItself
from wirecheck.rules.parallel_conductors import TooThin
from wirecheck.rules.phase_loss import FromOneLeg, OnTwoLines
from wirecheck.rules.pigtail_size import ThinPigtail
from wirecheck.rules.pole_bypassed import PoleBypassed
from wirecheck.rules.push_in_terminal import PushedIn
from wirecheck.rules.raceway_fill import UnknownFill
from wirecheck.rules.reversed_polarity import Reversed
from wirecheck.rules.safety_bypass import BurnsOn, Calls, GuardsNothing, RunsOn
from wirecheck.rules.separate_building import ThinElectrodeWire
from wirecheck.rules.short_circuit import Short
from wirecheck.rules.start_capacitor import NeverIn, StaysIn
from wirecheck.rules.start_winding import Straight
from wirecheck.rules.subpanel_lugs import DeadLugs, WrongLegs
from wirecheck.rules.switch_without_effect import AlwaysOn, Idle
from wirecheck.rules.switched_neutral import FusedGround, SwitchedNeutral
from wirecheck.rules.switching import NotAsAsked
from wirecheck.rules.syntax import Unreadable
from wirecheck.rules.tab_in_place import TabInPlace
from wirecheck.rules.terminal_crowding import Crowded
from wirecheck.rules.three_wire_outlet import BareNeutral, NewWork
from wirecheck.rules.two_circuits_on_a_yoke import TwoCircuits
from wirecheck.rules.unknown_name import UnknownName
from wirecheck.rules.unknown_part import UnknownPart
from wirecheck.rules.unswitched_feed import Switched, SwitchedTransformer
from wirecheck.rules.wrong_call import OnAnother, OnPower


class Row(NamedTuple):
    """One kind of consequence."""

    cause: type[Problem]
    effect: type[Problem]
    related: Relation
    because: str


TABLE: tuple[Row, ...] = (
    Row(GuardsNoMore, RunsOn, opens_the_same, "with the wires inside put back the safety stops it again"),
    Row(StaysOff, NotRunning, among_what_stays_off, "with the wires inside put back it runs"),
    Row(RunsWithout, RunsToo, among_what_runs, "with the wires inside put back it does not"),
    Row(
        TabInPlace,
        Crowded,
        same_screw,
        "with the tab broken off each hot has a screw of its own",
    ),
    *(
        Row(cause, GroundOnNeutral, are_its_bare_wires, "the bare wire is the neutral of those three")
        for cause in (NewWork, BareNeutral)
    ),
    Row(Reversed, GroundOnNeutral, are_on_its_way, "a bare wire may be the neutral of an old range or dryer"),
    Row(
        overcurrent_protection.TooLarge,
        PushedIn,
        asks_for_that_breaker_too,
        "the breaker that the wire needs suits the holes as well",
    ),
    Row(terminal_size.TooThin, PushedIn, same_join, "neither a screw nor a hole holds so thin a wire"),
    Row(terminal_size.WrongMetal, PushedIn, same_thing, "a hole is for no aluminum either"),
    Row(
        ThinElectrodeWire,
        terminal_size.TooThin,
        same_conductor,
        "the wire that the rod needs fits its clamp as well",
    ),
    Row(ThinPigtail, terminal_size.TooThin, same_screw, "a thicker pigtail fits the screw as well"),
    Row(TabInPlace, Short, meets_at_its_screw, "with the tab broken off the two hots do not meet"),
    Row(
        Reversed,
        SwitchedNeutral,
        all_on_reversed_devices,
        "where hot and neutral are swapped the switch of the hot is in the neutral",
    ),
    Row(
        Reversed,
        NeverLive,
        of_a_reversed_device,
        "a device with a hot on both sides is dead and must not be given a neutral beside it",
    ),
    Row(
        Reversed,
        OnOneSide,
        of_a_reversed_device,
        "a device with a hot on both sides has its volts once the neutral is back",
    ),
    Row(
        Reversed,
        wrong_voltage.OutletTooLittle,
        of_a_reversed_device,
        "with hot and neutral swapped back it has its volts",
    ),
    Row(
        Reversed,
        wrong_voltage.InSeries,
        all_on_reversed_devices,
        "with hot and neutral swapped back each load has a path of its own",
    ),
    Row(
        wrong_voltage.OutletTooMuch,
        Reversed,
        all_that_is_reversed,
        "two hots at an outlet for one are the worse of the two",
    ),
    *(
        Row(cause, NotAsAsked, one_of_its_loads, "that it is fed through a switch says why it is not live")
        for cause in (Switched, SwitchedTransformer)
    ),
    Row(
        wrong_voltage.InSeries,
        NotAsAsked,
        one_of_its_loads,
        "loads that share the voltage do not do what is asked of them",
    ),
    Row(
        wrong_voltage.TooLittle,
        NotAsAsked,
        one_of_its_loads,
        "what its source gives too few volts does not do what is asked of it",
    ),
    Row(
        coil_voltage.WrongTap,
        coil_voltage.TooMuch,
        from_its_secondary,
        "a transformer that is fed too much gives too much",
    ),
    Row(
        coil_voltage.WrongTap,
        coil_voltage.TooLittle,
        from_its_secondary,
        "a transformer that is fed too little gives too little",
    ),
    Row(
        coil_voltage.WrongTap,
        wrong_voltage.TooMuch,
        from_its_secondary,
        "a transformer that is fed too much gives too much",
    ),
    Row(
        transformer_phase.OutOfPhase,
        transformer_phase.TiedOnOneSide,
        same_transformers,
        "what meets on both sides meets on each",
    ),
    Row(
        transformer_phase.FedBackward,
        transformer_phase.TiedOnOneSide,
        same_transformers,
        "what meets on both sides meets on each",
    ),
    # Subpanels.
    *(
        Row(DeadLugs, effect, behind_those_lugs, "what hangs on a dead leg of the panel has no power")
        for effect in (NeverLive, NotAsAsked)
    ),
    *(
        Row(WrongLegs, effect, behind_that_panel, "what needs two legs has what the panel's lugs have")
        for effect in (OnOneSide, NotAsAsked, wrong_voltage.TooLittle, wrong_voltage.OutletTooLittle)
    ),
    *(
        Row(OnHighLeg, effect, same_copper, "on another leg it has the volts that it is made for")
        for effect in (NotAsAsked, wrong_voltage.TooMuch, wrong_voltage.OutletTooMuch, coil_voltage.WrongTap)
    ),
    *(
        Row(
            HighLegElsewhere, effect, behind_that_panel, "with the high leg where it belongs it has its volts"
        )
        for effect in (NotAsAsked, wrong_voltage.TooMuch, wrong_voltage.OutletTooMuch, coil_voltage.WrongTap)
    ),
    Row(Short, NoNeutral, is_on_its_lights, "a neutral that a hot is on is none, and is one without it"),
    Row(BondedSubpanel, NoNeutral, lights_behind_that_panel, "what its strap stands in for is the neutral"),
    Row(LooseEnds, DeadLugs, belongs_on_its_path, "the loose hot is the one that the lug lacks"),
    Row(OnSameLeg, WrongLegs, feed_that_panel, "one of the two breakers of the feeder is on the wrong leg"),
    # Grounds that are live, on a neutral, or open.
    *(
        Row(LiveMetal, effect, same_copper, "that the metal is live is the worse of the two")
        for effect in (OpenGround, FlexibleGround, SwitchedGround, GroundAsHot, CurrentOnGround)
    ),
    *(
        Row(GroundAsHot, effect, same_copper, "a bare wire that serves as a hot is no ground any more")
        for effect in (OpenGround, FlexibleGround, SwitchedGround, CurrentOnGround)
    ),
    Row(Short, OpenGround, swapped_there, "where a ground and a hot are swapped, the short is the worse"),
    Row(Short, GroundAsHot, same_place, "where a bare wire and a hot are swapped, the short is the worse"),
    *(
        Row(BondedSubpanel, effect, same_copper, "its bond is what puts the current on the ground")
        for effect in (CurrentOnGround, NeutralJoinedToGround, NeutralOnGround)
    ),
    *(
        Row(CurrentOnGround, effect, same_copper, "the current that flows already is the same mistake")
        for effect in (NeutralJoinedToGround, NeutralOnGround, GroundOnNeutral)
    ),
    Row(
        NeutralJoinedToGround,
        NeutralOnGround,
        behind_it,
        "what lies behind a ground-fault device comes back to the same join",
    ),
    *(
        Row(
            cause,
            GroundOnNeutral,
            same_place,
            "where a white and a bare wire are swapped, that is one mistake",
        )
        for cause in (CurrentOnGround, NeutralJoinedToGround, NeutralOnGround)
    ),
    *(
        Row(GroundOnNeutral, effect, same_copper, "it has no way to the ground bar, but one to the neutral")
        for effect in (OpenGround, FlexibleGround, SwitchedGround)
    ),
    *(
        Row(cause, WhiteOnGround, same_copper, "what comes back on it sends its current over the ground")
        for cause in (NeutralJoinedToGround, NeutralOnGround)
    ),
    *(
        Row(cause, effect, in_place_of_its_ground, "it was swapped with the bare wire of its cable")
        for cause in (LiveMetal, GroundAsHot, GroundOnNeutral)
        for effect in (HotColorAs, WhiteOnGround, WhiteMarked)
    ),
    *(
        Row(Short, effect, same_join, "the join that makes the short is to be parted")
        for effect in POWER_COLORS
    ),
    *(
        Row(cause, effect, same_copper, "it is grounded, by a wire of another color")
        for cause in (WhiteOnGround, HotColorAs)
        for effect in (OpenGround, FlexibleGround, SwitchedGround, LeadsNowhere)
    ),
    # Colors that mislead.
    *(
        Row(
            Reversed,
            effect,
            on_its_way,
            "once hot and neutral are swapped back the colors are right",
        )
        for effect in POWER_COLORS
    ),
    *(
        Row(
            ButtonInGround,
            effect,
            colored_for_the_other_side,
            "with the transformer's other side grounded the colors are right",
        )
        for effect in (HotColorAs, SingleWhiteAsHot, MarkedAsNoHot, WhiteNotMarked)
    ),
    Row(
        ButtonInGround,
        FusedGround,
        of_the_same_ground,
        "with the transformer's other side grounded the fuse is in its hot",
    ),
    *(
        Row(Unreadable, effect, same_line, "no table holds a kind or a size that there is not")
        for effect in (ampacity.NotChecked, UnknownFill)
    ),
    # Ends that are joined to nothing.
    *(
        Row(cause, effect, anywhere, "a line that could not be read may be the one that joins it")
        for cause in (Unreadable, UnknownName, UnknownPart)
        for effect in (LooseEnds, LooseTail, LeadsApart, OpenGrounds, OpenNeutrals)
    ),
    *(
        Row(cause, effect, may_be_joined_there, "what could not be read there may be what grounds it")
        for cause in (Unreadable, UnknownName, UnknownPart)
        for effect in (OpenGround, LeadsNowhere)
    ),
    *(
        Row(cause, LooseEnds, takes_its_ground, "the loose ground is what leaves the metal without a ground")
        for cause in (OpenGround, FlexibleGround, SwitchedGround)
    ),
    Row(NeverLive, LooseLeads, lead_that_it_lacks, "that says what the device lacks"),
    *(
        Row(cause, LooseLeads, dead_lead, "that says what the lead is for")
        for cause in (Unpowered, Unheard, Unsent)
    ),
    Row(OnTwoLines, LooseLeads, lead_of_its_lost_line, "that says which line the lead is for"),
    Row(Calls, RunsToo, runs_them_at_rest, "in series the safety runs nothing with no call"),
    Row(EndsHeat, EndsByTime, same_thing, "with the heaters in that call their warmth ends it"),
    Row(LooseEnds, LeadsNowhere, same_copper, "the loose end is where the ground is cut off"),
    Row(LooseEnds, LeadsApart, same_copper, "the loose end is where the alarms are cut off"),
    Row(LeadOnPower, LeadsApart, same_copper, "what is tied to power is not tied to the other alarms"),
    *(
        Row(
            overcurrent_protection.TooLarge,
            effect,
            same_circuit,
            "with another breaker the circuit is another, and another receptacle fits it",
        )
        for effect in (
            receptacle_rating.SmallAlone,
            receptacle_rating.Misfit,
            receptacle_rating.NoSuchCircuit,
            receptacle_rating.Starved,
            contact_rating.OutletsBehind,
        )
    ),
    Row(
        overcurrent_protection.TooSmall,
        ampacity.Overloaded,
        behind_that_breaker,
        "what asks for a larger breaker asks for the wire that goes with it",
    ),
    Row(
        wrong_voltage.TooMuch,
        breaker_trips.Overload,
        draws_through_it,
        "on more volts than it is made for a load draws more",
    ),
    *(
        Row(
            cause,
            effect,
            draws_through_its_contacts,
            "on the volts that it is made for a load draws what it is rated for",
        )
        for cause in (wrong_voltage.TooMuch, coil_voltage.TooMuch, coil_voltage.TooLittle)
        for effect in (contact_rating.Overloaded, contact_rating.DisconnectTooSmall)
    ),
    Row(
        breaker_trips.Overload,
        contact_rating.Overloaded,
        trips_before_it,
        "with no more on it than its breaker holds they carry no more than that",
    ),
    Row(
        breaker_trips.Overload,
        overcurrent_protection.TooSmall,
        same_thing,
        "with less on it than its rating it may be large enough",
    ),
    Row(
        transformer_load.Overdrawn,
        transformer_load.SagsAtPullIn,
        same_thing,
        "what draws too much all the time draws too much in a moment",
    ),
    # Two hots and a neutral.
    Row(NotTogether, BetweenTwo, same_two, "one handle for both settles that too"),
    *(
        Row(cause, TwoCircuits, same_two, "what is done about the two breakers settles the yoke too")
        for cause in (NotTogether, OnSameLeg, BetweenTwo)
    ),
    Row(FedTwice, TwoCircuits, ties_those, "with the two circuits apart the yoke is of one or of none"),
    Row(FedTwice, OnSameLeg, ties_the_two, "two hots that are one wire share everything"),
    *(
        Row(Short, effect, where_hots_meet, "two hots that are one wire share everything")
        for effect in (NotTogether, BetweenTwo)
    ),
    *(
        Row(cause, TooThin, same_copper, "with the neutrals of two circuits apart none lies in parallel")
        for cause in (NotTogether, OnSameLeg)
    ),
    Row(FedTwice, TooThin, beside_its_way, "with the two circuits apart their whites are apart too"),
    Row(TooThin, Apart, same_copper, "a wire in parallel takes a part of the current another way"),
    Row(
        TooThin,
        overcurrent_protection.TooLarge,
        of_those_wires,
        "one wire in place of two is sized by the same breaker",
    ),
    # Out in one cable and back in another.
    *(
        Row(cause, Apart, same_copper, "two circuits whose whites are one come back in each other's cables")
        for cause in (NotTogether, OnSameLeg, FedTwice)
    ),
    *(
        Row(cause, Apart, same_copper, "what comes back over a ground comes by other cables too")
        for cause in (CurrentOnGround, NeutralJoinedToGround, NeutralOnGround, GroundOnNeutral)
    ),
    *(
        Row(Apart, effect, same_copper, "its neutral is another's, and comes back to the other's breaker")
        for effect in (NeutralOnBar, NeutralOnAnother)
    ),
    Row(HalfPast, Apart, same_copper, "with both wires through the device they come by one cable"),
    Row(
        class_2_supply.OnPower,
        class_2_separation.Together,
        on_that_cable,
        "off the power it is no power wire",
    ),
    Row(
        class_2_supply.LineVoltage,
        class_2_supply.OnPower,
        same_copper,
        "with the line voltage off the screw the cable on it is off the power too",
    ),
    *(
        Row(
            cause,
            breaker_trips.Leak,
            unbalances_it,
            "with the white on its own screw it sees all of its current",
        )
        for cause in (NeutralOnBar, NeutralOnAnother)
    ),
    Row(HalfPast, breaker_trips.Leak, same_thing, "with both wires through it nothing comes back past it"),
    # What does not work, because of something worse.
    Row(Short, NotAsAsked, trips_it, "what a short leaves dark says nothing of the switches"),
    *(
        Row(cause, effect, anywhere, "a line that could not be read may be the one that feeds it")
        for cause in (Unreadable, UnknownName, UnknownPart)
        for effect in (NeverLive, OnOneSide, BoardWithoutPower, CommonOnCall)
    ),
    *(
        Row(cause, effect, anywhere, "until that is cleared nobody can say what else is dead")
        for cause in (Short, LiveMetal)
        for effect in (NeverLive, OnOneSide, BoardWithoutPower, CommonOnCall)
    ),
    *(
        Row(LooseEnds, effect, belongs_on_its_path, "the loose wire is what should bring it power")
        for effect in (NeverLive, OnOneSide, BoardWithoutPower)
    ),
    *(
        Row(cause, effect, anywhere, "until that is cleared nobody can say what a switch does")
        for cause in (Unreadable, UnknownName, UnknownPart, Short, LiveMetal)
        for effect in (Idle, AlwaysOn)
    ),
    Row(SwitchedGround, Idle, same_copper, "a switch that stands in a ground turns nothing on and off"),
    Row(AlwaysOn, Idle, same_copper, "with its wire on the load the switch turns it off"),
    Row(LooseEnds, Idle, belongs_on_its_path, "the loose wire is what the switch should turn on and off"),
    Row(NotAsAsked, Idle, asks_it_of_that_switch, "that says what the switch should do"),
    Row(NeverLive, Idle, path_stops_there, "what has no power feels no switch"),
    Row(OnOneSide, Idle, same_copper, "what has no power feels no switch"),
    *(
        Row(cause, Idle, same_copper, "the switch is passed by there")
        for cause in (TabInPlace, FedTwice, PoleBypassed, Reversed)
    ),
    # Calls.
    *(
        Row(NotRunning, effect, says_why_it_is_dead, "that says where its path stops")
        for effect in (NeverLive, OnOneSide)
    ),
    *(
        Row(cause, effect, feeds_it_by_its_swap, "with the wires where they belong it has its power")
        for cause in (NotRunning, RunsToo)
        for effect in (NeverLive, OnOneSide)
    ),
    *(
        Row(Unguarded, effect, same_thing, "that says it whatever room it is in")
        for effect in (OpenReceptacle, OpenEquipment)
    ),
    Row(WaitsForItself, NotAsAsked, keeps_it_dark, "what waits for itself turns nothing on"),
    Row(NeverLive, NotAsAsked, stops_for_want_of_it, "what has no power turns nothing on"),
    Row(WaitsForItself, NotRunning, waits_for_itself, "what waits for itself does not run in any call"),
    Row(WaitsForItself, HotPast, stays_off_with_it, "what waits for a contactor belongs ahead of it wholly"),
    Row(WaitsForItself, BoardWithoutPower, same_copper, "what waits for itself has no power at rest"),
    Row(StopsItself, SwitchReversed, same_thing, "with its feed ahead of its contacts its load screws open"),
    Row(NotRunning, BoardWithoutPower, in_that_machine, "that says what its machine lacks"),
    Row(NotRunning, BoardWithoutPower, comes_to_its_power, "that says where its power stops"),
    Row(CommonOnCall, BoardWithoutPower, is_its_common, "on a common the thermostat has its power"),
    *(
        Row(cause, BoardWithoutPower, gives_it_power, "with the wires where they belong it has its power")
        for cause in (NotRunning, RunsToo)
    ),
    Row(NotRunning, Unpowered, stops_at_it, "that says where its wire is"),
    Row(BoardWithoutPower, Unpowered, same_load, "that says where its power stops"),
    Row(NotRunning, CommonOnCall, anywhere, "that says which wire is on the wrong terminal"),
    Row(Short, NotRunning, trips_it, "what a short leaves without power does not run"),
    *(
        Row(cause, NotRunning, opens_its_protection, "what opens leaves it without power")
        for cause in (breaker_trips.Overload, breaker_trips.Leak)
    ),
    Row(
        transformer_load.Overdrawn,
        NotRunning,
        opens_its_transformer,
        "a transformer that gives up leaves it without power",
    ),
    *(
        Row(cause, NotRunning, starves, "what waits for a load with too few volts does not run")
        for cause in (coil_voltage.TooLittle, wrong_voltage.TooLittle, voltage_drop.Starved)
    ),
    *(
        Row(Straight, effect, all_in_its_machine, "a motor does not start whose start winding is on the line")
        for effect in (wrong_voltage.InSeries, NotRunning)
    ),
    Row(coil_voltage.Chatters, NotRunning, makes_no_rest, "where nothing comes to rest nothing runs"),
    Row(
        NotRunning,
        coil_voltage.Chatters,
        mended_by_its_swap,
        "with the wires where they belong it comes to rest",
    ),
    *(
        Row(cause, effect, related, "a motor that lacks a line does not start")
        for cause in (OnTwoLines, FromOneLeg)
        for effect, related in (
            (NeverStarts, that_motor),
            (NotRunning, missed_motor),
            (NeverLive, dead_motor),
            (OnOneSide, dead_motor),
            (NotAsAsked, asks_that_motor),
        )
    ),
    Row(NeverLive, EndsByTime, in_its_device, "what has no power ends nothing"),
    Row(NeverLive, NeverStarts, says_it_of_that_load, "what has no power does not start"),
    Row(NotRunning, NeverIn, anywhere, "what holds its motor up holds its capacitor out"),
    Row(EndsAtOnce, NotRunning, all_among_its_loads, "what stops as it starts has not run"),
    Row(HeldOff, NotRunning, all_among_its_loads, "what another call holds off does not run"),
    *(
        Row(cause, effect, runs_that_machine, "what that call runs, or does not, is found by its line")
        for cause in (RunsToo, NotRunning)
        for effect in (OnPower, OnAnother)
    ),
    *(
        Row(CrossedUnasked, effect, same_copper, "the crossed wires bring that call to that terminal")
        for effect in (OnPower, OnAnother)
    ),
    *(
        Row(cause, UnusualColor, same_copper, "the wire is on the wrong call, whatever its color")
        for cause in (OnPower, OnAnother)
    ),
    *(
        Row(cause, effect, path_stops_there, "that says where its path stops")
        for cause in (NotRunning, NeverLive)
        for effect in (CappedCall, ToCallers)
    ),
    *(
        Row(cause, effect, same_copper, "that says which wire of the call comes to nothing")
        for cause in (CappedCall, ToCallers)
        for effect in (Unheard, Unused)
    ),
    Row(BothTaps, RunsToo, are_its_speeds, "with one tap at a time only one speed runs"),
    Row(RunsToo, NotRunning, crossed_in_its_calls, "a crossed wire runs one thing in place of another"),
    Row(RunsToo, NotRunning, same_swap, "wires that are swapped run one thing in place of another"),
    Row(RunsToo, NotRunning, ran_at_rest, "what has run without a call does not begin again with it"),
    Row(RunsToo, NeverStops, stops_for_none, "what runs without a call does not stop when one ends"),
    Row(RunsToo, OutOfOrder, runs_at_rest, "what runs without a call has no place in its order"),
    *(
        Row(cause, Unused, anywhere, "what the text does not say yet may bring the wire")
        for cause in (Unreadable, UnknownName, UnknownPart)
    ),
    *(
        Row(cause, Unused, anywhere, "where something does not work a screw without a wire is no wonder")
        for cause in (
            FromOneLeg,
            NeverStarts,
            NotAsAsked,
            NotRunning,
            NeverLive,
            OnOneSide,
            OnTwoLines,
            RunsToo,
        )
    ),
    *(
        Row(cause, Unused, left_empty, "the wire of the empty screw is found beside it")
        for cause in (
            BurnsOn,
            Crowded,
            EndsAtOnce,
            FedFromBehind,
            FedFromBothSides,
            GuardsNothing,
            HalfPast,
            HeldOff,
            HotPast,
            LooseEnds,
            PoleBypassed,
            RunsOn,
            Short,
            StaysIn,
            Straight,
            WiredAround,
        )
    ),
    *(
        Row(cause, Unused, left_out_relay, "the line that goes past the relay leaves its screws empty")
        for cause in (LineWithout, NoOverload)
    ),
    *(
        Row(cause, CrossedUnasked, anywhere, "the crossed wires are named where something shows them")
        for cause in (RunsToo, NotRunning)
    ),
)
