# What noonwater says in English. The value of a message is its full wording; .short and .tiny say the same in fewer letters.
# Numbers come already written in the language's way. Only letters of the default SMS alphabet, please.

# $sheet: the sheet as a message that could be sent again.
told = I understood: { $sheet }.
    .tiny = { $sheet }.
took-word = I read it as { $word }.
    .tiny = Read as { $word }.

# $verdict: enough, tight, short, unfit (too much voltage), or open when no garden was told.
answer = { $verdict ->
       *[enough] ENOUGH: about { $water } m3 a day in { $month }, waters { $area } m2.
        [tight] JUST ENOUGH: about { $water } m3 a day in { $month }, waters { $area } m2.
        [short] TOO LITTLE: about { $water } m3 a day in { $month }, waters only { $area } m2.
        [unfit] UNFIT: at noon these panels give the pump too much voltage: it will not last.
        [open] About { $water } m3 a day in { $month }, waters { $area } m2.
    }
    .tiny = { $verdict ->
       *[enough] ENOUGH: { $water } m3/day { $month }, { $area } m2.
        [tight] JUST ENOUGH: { $water } m3/day { $month }, { $area } m2.
        [short] TOO LITTLE: { $water } m3/day { $month }, { $area } m2.
        [unfit] UNFIT: too much voltage, the pump will not last.
        [open] { $water } m3/day { $month }, { $area } m2.
    }
answer-no-need = About { $water } m3 a day in { $month }; the crop needs no watering then.
    .tiny = { $water } m3/day { $month }, no watering needed.
no-water = NO WATER: this set cannot lift it { $lift } m here.
    .tiny = NO WATER: cannot lift it { $lift } m here.
assumed = Assumed: { $things }.
assumed-pump = pump { $volts }V { $flow } l/h { $head }m
    .tiny = pump { $flow } l/h
assumed-volts = { $volts }V pump
    .tiny = { $volts }V
assumed-bore = bore { $bore } mm
    .tiny = bore { $bore }
assumed-flat = panels flat
    .tiny = flat
assumed-panels = { $panels } W { $count ->
        [one] panel
       *[other] panels
    }
    .tiny = { $panels } W
assumed-crop = { $crop }
assumed-watering = by { $watering }
    .tiny = { $watering }
assumed-place = place { $place }
    .tiny = { $place }

over-driven = Too many panels: at noon they wear out the pump. Use only { $panels }.
    .tiny = Too many panels: use only { $panels }.
over-driven-less = Too much voltage: at noon it wears out the pump. { $panels } panels spare it but water only { $area } m2.
    .tiny = Wears pump: { $panels } panels water only { $area } m2.
wire-burns = Wire { $size } mm2 can burn: take { $take }.
wire-burns-split = Wire { $size } mm2 can burn: split the set in two.
    .tiny = Wire { $size } mm2 can burn: split set.
mismatch = { $panels } V panels on a { $pump } V pump.
joined = { $how ->
       *[row] Join panels in a row, + to -.
        [side] Join panels side by side: + to +, - to -.
        [both] Join panels { $series } in a row (+ to -), { $parallel } rows side by side.
    }
    .tiny = { $how ->
       *[row] Panels in a row.
        [side] Panels side by side.
        [both] { $series } in a row, { $parallel } rows.
    }
left-over = { $panels } left over.
hours = { $hours } h of sun waters your { $garden } m2. Bed of 10 m2: { $minutes } min { $seconds } s or { $cans } cans.
    .tiny = { $hours } h of sun does it. 10 m2: { $minutes } min { $seconds } s.
ask-guess = { $guess ->
       *[amps] How many amps on the pump's label? It may turn the answer. Example: 10a
        [panel_v] How many volts on the panel's label (Vmp)? It may turn the answer. Example: panel 31v
        [bore_mm] How wide is the pipe inside, in mm? It may turn the answer. Example: bore 50
        [low_m] How many metres of lift at low water? It may turn the answer. Example: low 4
        [bucket_test] To be sure, time five buckets. Example: test 75 l 40 s at 3
    }
    .tiny = { $guess ->
       *[amps] Pump's amps? Example: 10a
        [panel_v] Panel's volts? panel 31v
        [bore_mm] Pipe bore in mm?
        [low_m] Lift at low water?
        [bucket_test] To be sure: TEST.
    }
over-driven-always = Too much voltage: at noon it wears out the pump. Use smaller panels.
    .tiny = Wears fast: smaller panels.
well-runs-dry = The pump takes more than the well gives. Choke the OUTLET, or run it by turns; never choke the inlet, never run dry.
    .short = Well may run dry: choke the outlet.
    .tiny = Well may run dry.
high-voltage = Danger: over 60 V. A licensed electrician must wire it, by the local rules.
    .tiny = Over 60 V: licensed electrician only.

safety = { $line ->
       *[switch_off] Switch off and unplug before you touch pump or wires.
        [dry_joints] Keep joints and the switch dry and out of the water.
        [panels_live] Panels give voltage in any light: cover them before joining wires.
        [dc_breaker] Use a breaker rated for DC and your volts, + and - as marked on it: an AC one, or one turned round, may not cut an arc.
        [children] Keep children away from the pump, the bank and open wells.
        [never_dry] Never let the pump run dry.
        [two_people] In wind two people move the panels. Tie them down.
        [not_drink] Do not drink this water or wash raw food in it untreated. It also carries bilharzia: stay out where you can.
        [electrician] Over 60 V, mains or inside a well: licensed electrician, local rules.
        [in_water] Nobody stands, washes or swims near the pump while it runs. Wire skin torn or case cracked: do not use it.
        [well] A pump in a well is pulled up by its rope. Nobody goes down: bad air kills. Wiring there: a licensed electrician.
        [storm] Thunder: leave cart, wires and river. Come back 30 minutes after the last thunder.
        [plug] Switch off first, then unplug. A plug pulled while running draws an arc that burns hands and plug.
        [poison] Mix poison and fertiliser far from river and well, with other cans. Never suck a hose to start it.
    }
    .short = { $line ->
       *[switch_off] Switch off and unplug before you touch pump or wires.
        [dry_joints] Keep joints and the switch dry and out of the water.
        [panels_live] Panels give voltage in any light: cover them before joining wires.
        [dc_breaker] Use a breaker rated for DC, + and - as marked: an AC one may not cut a DC arc.
        [children] Keep children away from the pump, the bank and open wells.
        [never_dry] Never let the pump run dry.
        [two_people] In wind two people move the panels. Tie them down.
        [not_drink] Do not drink this water untreated.
        [electrician] Over 60 V, mains or inside a well: licensed electrician, local rules.
        [in_water] Nobody stands or swims near the pump while it runs.
        [well] Nobody goes down a well: bad air kills. Pull the pump up by its rope.
        [storm] Thunder: leave cart, wires and river.
        [plug] Switch off first, then unplug: else an arc burns you.
        [poison] Poison and fertiliser: mix far from river and well.
    }
    .tiny = { $line ->
       *[switch_off] Switch off before pump work.
        [dry_joints] Keep joints and switch dry.
        [panels_live] Cover panels before joining wires.
        [dc_breaker] DC breaker, + and - as marked.
        [children] Keep children off pump and bank.
        [never_dry] Never run the pump dry.
        [two_people] Wind: two people, tie panels down.
        [not_drink] Do not drink it untreated.
        [electrician] Over 60V, mains: electrician.
        [in_water] Pump runs: nobody in the water.
        [well] Nobody goes down a well: bad air.
        [storm] Thunder: leave wires and river.
        [plug] Switch off first, then unplug.
        [poison] No poison near river or well.
    }

next-word = Text { $word } for more.
    .tiny = Text { $word }.

# The one question of a message, by field.
ask = { $field ->
       *[lift] How many metres from the water up to where it must flow out? Example: lift 3
        [low] How many metres of lift when the river is lowest? Example: low 4
        [pipe] How many metres of pipe from the pump to the garden? Example: pipe 30
        [bore] How wide is the pipe inside, in mm? Example: bore 50
        [panel] How many panels, of how many watts? Example: panel 3x100
        [stance] Do the panels lie flat, stand fixed, or are they turned by hand?
        [pump] What does the pump's label say? Example: pump 12v 9000 l/h 6m 10a
        [suction] How many metres does the pump stand above the water? Example: suction 3
        [well] How many litres an hour does the well give? Example: well 2000
        [garden] How big is the garden in square metres? Example: garden 900
        [crop] Which crop? Example: crop tomato
        [soil] Which soil: sand, sandy loam, loam or clay? Example: soil clay
        [month] Which month? Example: month september
        [watering] How do you water: furrow, hose, drip or sprinkler?
        [wire] How many metres of wire from panels to pump? Example: wire 10
        [place] Which place are you near? Example: place Kito
    }
    .tiny = { $field ->
       *[lift] Lift in metres?
        [low] Lift at low water?
        [pipe] Pipe length in metres?
        [bore] Pipe bore in mm?
        [panel] Panels? Example: panel 3x100
        [stance] Panels flat, fixed or turned?
        [pump] Pump label?
        [suction] Pump metres above water?
        [well] Litres an hour of the well?
        [garden] Garden in m2?
        [crop] Which crop?
        [soil] Sand, loam or clay?
        [month] Which month?
        [watering] Furrow, hose, drip or sprinkler?
        [wire] Wire length in metres?
        [place] Which place?
    }

refused-range = { $field } { $value } cannot be: it must be { $low } to { $high } { $unit }.
    .tiny = { $field }: only { $low } to { $high } { $unit }.
refused-unit = { $field } is not measured in that unit: send it in { $unit }.
refused-unknown-unit = { $field }: I do not know that unit. Send it in { $unit }.
refused-no-number = { $field }: send a number after it.
refused-whole = { $field } must be a whole number.
refused-one = { $field }: send one number only.
refused-twice = { $field }: I read more than one. Send only one.
refused-gallon = US or imperial gallons? Send us ({ $us } l/h) or imperial ({ $imperial } l/h).
refused-which = Which field is { $value }? Put its word before it, like: lift 3
refused-test = A test needs litres and seconds. Example: test 75 l 40 s at 3

is-it-right = { $field } { $value } { $unit } is unusual. Is it right? Send yes, or { $field } and the right number.
    .tiny = { $field } { $value } { $unit }: right? Send yes or { $field } again.
low-below-lift = Low water lift { $low } m is less than lift { $lift } m. Is it right? Send yes, or low and the right number.
# Of a message in a list, whose sender cannot be asked.
unusual = { $field } { $value } { $unit } is unusual: check it.
unusual-low = Low { $low } m is less than lift { $lift } m: check it.
# A word that is of use in a talk only, in a message of a list.
only-in-talk = { $word } works only in a talk by phone. Nothing was done here.
did-you-mean = Did you mean { $meant } where you wrote { $word }? Send yes or no.
    .tiny = Did you mean { $meant }? Send yes or no.
passed-over = Not understood: { $words }.
nothing-understood = I did not understand. Send for example: lift 3 pipe 30 panel 3x100 garden 900 (metres, metres, watts, m2)
place-unknown = I do not know { $name }. Places: { $known }. Send: place { $first }, or a big town near you, or degrees: place -8.2 35.1
    .short = I do not know { $name }. Send: place { $first }, or a big town near you, or degrees: place -8.2 35.1
    .tiny = I do not know that place. Send: place { $first }
refused-spot = Degrees are -60 to 60 (north) and -180 to 180 (east), metres -430 to 6000. Example: place -8.2 35.1 1200m

# Whose climate a place has. $distance in km; $altitude in metres: what was worked with, and in climate-rough the station's.
climate-town = Climate of { $town }.
climate-spot = Climate of { $town }, { $distance } km away, taken to { $altitude } m.
    .tiny = Climate: { $town } { $distance } km, at { $altitude } m.
climate-spot-level = Climate of { $town }, { $distance } km away; altitude { $altitude } m taken, send yours if it differs.
    .short = Climate of { $town }, { $distance } km away; altitude { $altitude } m taken.
    .tiny = Climate: { $town } { $distance } km, { $altitude } m.
climate-rough = ROUGH numbers: the nearest climate known is { $town }, { $distance } km away at { $altitude } m. A person will check.
    .short = ROUGH: climate of { $town }, { $distance } km, { $altitude } m. A person will check.
    .tiny = ROUGH: climate { $distance } km off. A person checks.
still-same = Is it still the same garden and pump as last time? Send yes or no.
new-sheet = New sheet begun.
not-understood = I did not understand that.
only-start-read = Your message was long: I read only its first part.
no-more = That was all. Words: setup, care, wire, pipe, help.

# What a field is and how to measure it, when its word comes alone.
about = { $field ->
       *[lift] Lift: metres straight up from water to outlet. Sight level over a clear hose of water, or count eye heights. Example: lift 3
        [low] Low: the lift when the river or well is lowest, at the end of the dry season. Example: low 4
        [pipe] Pipe: metres of hose from pump to garden along the ground. 1 step is about 0.7 m. Example: pipe 30
        [bore] Bore: width inside the pipe in mm. A narrow pipe eats the pump's force. Example: bore 50
        [panel] Panel: how many, and the watts on the label at the back. Example: panel 3x100
        [stance] Stance: flat, fixed at a tilt, or turned by hand to the sun. Example: turned
        [pump] Pump: volts, amps, litres an hour, highest metres on the label. Example: pump 12v 9000 l/h 6m 10a
        [suction] Suction: metres the pump stands above water. Foot valve below, fill pump and hose first; never by mouth. Example: suction 3
        [well] Well: pump it 1 m down, time the refill. Litres an hour = 47000 x width x width / minutes; width in m. Example: well 2000
        [garden] Garden: length x width in steps or metres. Example: garden 50x30
        [crop] Crop: what you grow; each drinks its own share. Example: crop tomato
        [soil] Soil: a wet ball falls apart: sand; holds: loam; rolls like string: clay. Example: soil clay
        [month] Month: the one you ask about; else I take the driest. Example: month september
        [watering] Watering: furrow, hose, drip or sprinkler. Drip needs the least water. Example: drip
        [wire] Wire: a long thin cable wastes power. Keep it short and thick, with a DC breaker. Example: wire 10
        [place] Place: your village or the nearest I know, for its sun and rain. Example: place Kito
    }
bore-best = Pipe { $metres } m: take { $bore } mm inside. At noon it eats only { $loss } m of lift; a narrower one eats much more.
    .tiny = Pipe { $metres } m: { $bore } mm loses { $loss } m at noon, narrower much more.
bore-told = Pipe { $metres } m of { $bore } mm: at noon it eats { $loss } m of lift. If that is over 1 m take a wider one.
    .tiny = { $bore } mm pipe loses { $loss } m at noon; over 1 m take wider.

# Placing and joining the set, one step a message.
setup = { $step ->
       *[mud] 1/8 Hang the pump by a rope, never by its wire, off the mud, in a bucket full of small holes with a net around it.
        [float] 2/8 Hang the bucket under a float (clean sealed can, no poison can); tie it by a second rope to a stake. River rising? Take it out.
        [joints] 3/8 One uncut cable from pump to post is best. Joints and switch in a box on the post, above flood level, cable entering from below.
        [cover] 4/8 Panels face down or under thick dark cloth. Side by side: join + to +, - to -. One after the other: + to -. Join the pump last.
        [hose] 5/8 Hose without kinks, always rising, clamps at both ends, tied to a stake: full of water it is heavy and pulls off.
        [first_start] 6/8 Check + and -. Nobody in the water. Pump under, shake the air out, switch on. Little water after 1 min: off, check + and - again.
        [tie_down] 7/8 Stake cart and panels on both sides. Storm coming: switch off, lay panels flat, tie, go away. No shade, not even a leaf.
        [home] 8/8 Evening: switch off, unplug, lift pump by its rope, rinse, take pump and panels home. Left in the river it is stolen or silted.
    }
    .tiny = { $step ->
       *[mud] 1/8 Hang the pump by a rope, never by its wire, off the mud, in a bucket full of small holes in a net.
        [float] 2/8 Bucket under a float (sealed can, no poison can), a second rope to a stake. River rising? Take it out.
        [joints] 3/8 Best one uncut cable, pump to post. Joints, switch in a box above flood level, cable in from below.
        [cover] 4/8 Panels under thick dark cloth. Side by side: + to +, - to -. One after the other: + to -. Pump last.
        [hose] 5/8 Hose without kinks, always rising, clamps at both ends, tied to a stake: full it is heavy, pulls off.
        [first_start] 6/8 Check + and -. Nobody in the water. Pump under, shake the air out, on. Little water in 1 min: off, check.
        [tie_down] 7/8 Stake cart and panels on both sides. Storm: switch off, panels flat, tie, go away. No shade, not a leaf.
        [home] 8/8 Evening: switch off, unplug, lift pump by its rope, rinse, take pump and panels home from thieves and silt.
    }
# What to clean, look at and replace.
care = { $step ->
       *[week] 1/4 Each week, switched off: wash screen and bucket; wipe panels with water and a soft cloth before the sun is hot.
        [month] 2/4 Each month, after running: switch off, then feel plug and joints. A warm or green one must be cut off and made new. Tighten clamps.
        [season] 3/4 Each season: try the breaker, rope and float; time 5 buckets or a drum: test 75 l 40 s at 3
        [replace] 4/4 Less water? Screen, leaks, panels, joints first. A sealed pump: do not open it, buy new. Brushes only where it has brush caps.
    }
    .tiny = { $step ->
       *[week] 1/4 Each week, switched off: wash screen, bucket; wipe panels, water and soft cloth, before the sun is hot.
        [month] 2/4 Each month, after running: switch off, feel plug and joints. Warm or green: cut it off, make it new.
        [season] 3/4 Each season: try the breaker, rope and float; time 5 buckets or a drum: test 75 l 40 s at 3
        [replace] 4/4 Less water? Screen, leaks, panels, joints first. Do not open a sealed pump. Brushes only under brush caps.
    }
help = { $step ->
       *[begin] Send: lift 3 pipe 30 panel 3x100 garden 900 (m, m, W, m2). A guide for planning only: local codes and licensed electricians come first.
        [words] Words: more, cost, change, sun, when, test, setup, care, remind, new, person, stop, start, forget.
        [fields] Send a word alone to learn about it: lift low pipe bore panel stance pump suction well garden crop soil month watering wire place.
    }

# Menus of a screen; a digit stands before each line.
menu = { $menu ->
       *[home] Solar pump and garden
        [other] Other
        [answered] Your answer
        [languages] Language
        [stopped] You asked for no more messages.
    }
choice = { $item ->
       *[answer] Will it water my garden?
        [new] New garden
        [setup] Set it up
        [care] Look after it
        [other] Other
        [language] Language
        [person] Talk to a person
        [stop] No more messages
        [start] Messages again
        [yes] Yes
        [no] No
        [more] More
        [change] What makes it enough
        [cost] What it costs
        [back] Back
    }
    .tiny = { $item ->
       *[answer] My garden
        [new] New
        [setup] Set up
        [care] Care
        [other] Other
        [language] Language
        [person] Person
        [stop] Stop
        [start] Start
        [yes] Yes
        [no] No
        [more] More
        [change] Change
        [cost] Cost
        [back] Back
    }
no-such-choice = Key a number of the list.
also-by-sms = Also sent by SMS.
busy = Too many are asking now. Please dial again in a minute.
stopped = You will get no more messages. Send START to come back.
started = Welcome back. Send: lift 3 pipe 30 panel 3x100 garden 900
handed-over = A person at the hotline will read this and answer you.
handed-back = You write to the program again. Send { $word } if you need one of us.
forget-sure = Delete all I hold about you? Send yes to delete.
kept = Nothing is deleted.
forgotten = All is deleted. Send lift 3 pipe 30 panel 3x100 garden 900 to begin again.

poor-day = { $hours } h of water a day; on a poor day { $water } m3.
    .tiny = { $hours } h/day; poor day { $water } m3.
noon = Bright noon: { $flow } l/min, { $loss } m lost in { $bore } mm pipe.
    .tiny = Noon { $flow } l/min.
wire = Wire { $metres } m: { $size } mm2, DC breaker { $breaker } A (an AC one may not cut an arc; it will not trip for a stalled pump).
    .short = Wire { $size } mm2, DC breaker { $breaker } A; it will not trip for a stalled pump.
    .tiny = Take { $size } mm2, DC breaker { $breaker } A; no stall guard.
wire-no-breaker = Wire { $metres } m: { $size } mm2. Current too high for one breaker: split the set.
    .tiny = Wire { $size } mm2; current too high for one breaker: split the set.
string-fuse = Fuse in each string: { $fuse } A.
    .tiny = Fuse per string: { $fuse } A.

# A whole set to buy.
proposal = Buy { $panels } W { $count ->
        [one] panel
       *[other] panels
    }, pump { $volts }V { $flow } l/h, pipe { $bore } mm, wire { $wire } mm2, { $breaker }: { $cost }.
    .tiny = Buy { $panels } W, pump { $volts }V { $flow } l/h, bore { $bore }, { $breaker }: { $cost }.
proposal-no-price = Buy { $panels } W { $count ->
        [one] panel
       *[other] panels
    }, pump { $volts }V { $flow } l/h, pipe { $bore } mm, wire { $wire } mm2, { $breaker }.
    .tiny = Buy { $panels } W, pump { $volts }V { $flow } l/h, bore { $bore }, { $breaker }.
# The $breaker of a proposal: its amperes, or that none is made so large.
proposal-breaker = DC breaker { $breaker } A
proposal-no-breaker = no DC breaker that big: ask an electrician
    .tiny = no breaker that big
each-pump = Each pump has its own pipe, wire and breaker.
    .tiny = Each its own pipe, wire, breaker.
no-set = No set waters that much here. Send a smaller garden, or PERSON for the hotline.

# What would make the set enough; $place is 1 to 3.
fix = { $place }: { $what }: { $cost } more, waters { $area } m2.
    .tiny = { $place }: { $what }, +{ $cost }.
fix-saves = { $place }: { $what }: saves { $cost }, waters { $area } m2.
    .tiny = { $place }: { $what }, saves { $cost }.
fix-free = { $place }: { $what }: no cost, waters { $area } m2.
    .tiny = { $place }: { $what }, free.
fix-no-price = { $place }: { $what }: waters { $area } m2.
    .tiny = { $place }: { $what }.
change-bore = pipe { $bore } mm
change-panels = { $count ->
        [one] 1 panel
       *[other] { $count } panels
    }
change-turned = turn the panels to the sun
change-sets = { $count ->
        [one] 1 pump with its panels and pipe
       *[other] { $count } pumps with panels and pipes each
    }
change-wire = wire { $size } mm2
change-watering = water by { $watering }
change-garden = garden { $garden } m2
nothing-to-change = Your set is enough: nothing to change.
no-change-helps = No small change makes this set enough: send PERSON for the hotline.

cost = All parts { $first }; worn out a year { $yearly }.
    .tiny = Parts { $first }, yearly { $yearly }.
cost-first = All parts { $first }.
cost-unknown = Not all prices are known here.
petrol = Petrol: pump { $first }, a year { $yearly }.
    .tiny = Petrol { $first }, yearly { $yearly }.
payback = { $days ->
        [one] Saved back in 1 day of watering.
       *[other] Saved back in { $days } days of watering.
    }
    .tiny = { $days ->
        [one] Paid back in 1 day.
       *[other] Paid back in { $days } days.
    }
payback-at-once = Cheaper than petrol from the first day.
    .tiny = Cheaper than petrol at once.
no-price = No price for: { $parts }.

# A bucket test: $percent is of the flow expected, $flow in litres a minute.
test-judged = { $health ->
       *[healthy] Test: { $flow } l/min, { $percent }% of what I expect: the pump is well.
        [check] Test: { $flow } l/min, only { $percent }% of what I expect. Clean the screen, stop leaks, wipe and aim the panels, then test again.
        [fault] Test: { $flow } l/min, only { $percent }% of what I expect: a fault. Look at impeller, joints, wires, brushes if it has caps; is the lift right?
    }
    .tiny = { $health ->
       *[healthy] Test { $percent }%: pump is well.
        [check] Test { $percent }%: clean screen and panels, stop leaks, aim, test again.
        [fault] Test { $percent }%: fault. Look at impeller, joints, wires, brushes, lift.
    }
test-not-used = Test kept, not used: { $flow } l/min is { $percent }% of what this pump should give. Measure litres, seconds and metres again.
    .tiny = Test not used ({ $percent }%): measure litres, seconds, metres again.
test-cloudy = Under clouds I cannot judge. Test again in full sun near noon.
test-low-sun = The sun was too low then to judge. Test near noon, or send its time too (test 75 l 40 s at 3 11:30).
test-nothing-expected = By its label the pump gives nothing at { $outlet } m then. Is { $outlet } m right? Send the test again.
test-taken = Taken: { $time }, sky { $sky }, outlet { $outlet } m up.
    .tiny = Taken { $time }, { $sky }, { $outlet } m.
test-how = { $step ->
       *[bucket] Full sun near noon, all the hose on: time 5 buckets or a drum, 30 s or more. Send litres, seconds, metres up, time: test 75 l 40 s at 3 11:30
        [heights] Test twice, the end TIED at 2 m and at 4 m over the water, whole hose left on: then I know your own pump. Say hazy or cloudy.
    }
    .tiny = { $step ->
       *[bucket] Full sun near noon, all the hose on: time 5 buckets or a drum, 30 s or more. Send: test 75 l 40 s at 3 11:30
        [heights] Test twice, the end TIED at 2 m, then 4 m over the water, whole hose on: I then know your pump. Say hazy or cloudy.
    }
own-numbers = { $tests ->
        [one] By your own test.
       *[other] By your own { $tests } tests.
    }
    .tiny = { $tests ->
        [one] Own test (1).
       *[other] Own tests ({ $tests }).
    }
suction-too-high = Pump too high over the water: here it can draw up { $metres } m at most. Set it lower.
    .tiny = Pump too high: draws { $metres } m at most here.

# The three stances of a day; $percent is the light won over lying flat.
stances = { $month }: till { $turn } { $first }; then { $second }; from { $again } { $third }. { $percent }% more light than flat.
    .tiny = { $month }: to { $turn } { $first }, then { $second }, from { $again } { $third }: +{ $percent }%.
facing = { $point ->
       *[north] face north, tilt { $tilt } degrees
        [north_east] face north-east, tilt { $tilt } degrees
        [east] face east, tilt { $tilt } degrees
        [south_east] face south-east, tilt { $tilt } degrees
        [south] face south, tilt { $tilt } degrees
        [south_west] face south-west, tilt { $tilt } degrees
        [west] face west, tilt { $tilt } degrees
        [north_west] face north-west, tilt { $tilt } degrees
        [up] lie flat
    }
    .short = { $point ->
       *[north] north { $tilt } deg
        [north_east] north-east { $tilt } deg
        [east] east { $tilt } deg
        [south_east] south-east { $tilt } deg
        [south] south { $tilt } deg
        [south_west] south-west { $tilt } deg
        [west] west { $tilt } deg
        [north_west] north-west { $tilt } deg
        [up] flat
    }
    .tiny = { $point ->
       *[north] N { $tilt }
        [north_east] NE { $tilt }
        [east] E { $tilt }
        [south_east] SE { $tilt }
        [south] S { $tilt }
        [south_west] SW { $tilt }
        [west] W { $tilt }
        [north_west] NW { $tilt }
        [up] flat
    }
good-hours = Good flow on a bright day in { $month }: { $from } to { $to }.
    .tiny = Good flow { $month } { $from }-{ $to }.
interval = { $often ->
       *[days] Water { $crop } on { $soil } every { $days } days, { $litres } l each m2.
        [daily] Water { $crop } on { $soil } every day, { $litres } l each m2.
    }
    .tiny = { $often ->
       *[days] Water every { $days } days { $litres } l/m2.
        [daily] Water every day { $litres } l/m2.
    }
interval-soil-taken = { $often ->
       *[days] Water { $crop } every { $days } days, { $litres } l each m2 (soil { $soil } taken; send yours: soil clay).
        [daily] Water { $crop } every day, { $litres } l each m2 (soil { $soil } taken; send yours: soil clay).
    }
    .tiny = { $often ->
       *[days] Water every { $days } days { $litres } l/m2 ({ $soil }).
        [daily] Water every day { $litres } l/m2 ({ $soil }).
    }

reminders-set = I will remind you: { $list }. To end it: remind no
    .tiny = Reminders: { $list }. End: remind no
reminder = { $kind ->
       *[brushes] look at the brushes, { $date }
        [low_water] low water, { $date }
    }
    .tiny = { $kind ->
       *[brushes] brushes { $date }
        [low_water] low water { $date }
    }
date = { $day } { $month } { $year }
reminders-off = No more reminders of that.
no-brushes = This pump has electronics and no brushes to look at.
brushes-due = Your pump has now run about { $hours } hours. Has it brush caps? Look at the brushes; worn short, put new ones in. Then send: remind pump. To end it: remind no
    .tiny = Pump ran { $hours } h: look at the brushes. Then send: remind pump
low-water-comes = The water is lowest in { $month }. Measure the lift then and send: low 6. Move the pump down with the water. To end it: remind no
    .tiny = Water lowest in { $month }: measure, send: low 6

# $month: m1 to m12.
month = { $month ->
       *[m1] January
        [m2] February
        [m3] March
        [m4] April
        [m5] May
        [m6] June
        [m7] July
        [m8] August
        [m9] September
        [m10] October
        [m11] November
        [m12] December
    }
    .tiny = { $month ->
       *[m1] Jan
        [m2] Feb
        [m3] Mar
        [m4] Apr
        [m5] May
        [m6] Jun
        [m7] Jul
        [m8] Aug
        [m9] Sep
        [m10] Oct
        [m11] Nov
        [m12] Dec
    }

# A set as it is and with something changed, side by side.
compared = Now { $now }. With { $change }: { $then }. To take it send { -command-yes }.
    .tiny = { $change }: { $then }. Take it? { -command-yes }
outcome = { $verdict ->
       *[enough] ENOUGH, { $water } m3/day, { $area } m2
        [tight] JUST ENOUGH, { $water } m3/day, { $area } m2
        [short] TOO LITTLE, { $water } m3/day, { $area } m2
        [unfit] UNFIT, too much voltage
        [open] { $water } m3/day, { $area } m2
    }
outcome-no-need = { $water } m3/day, no watering needed
sheet-kept = Nothing is changed.
still-handed-over = A person has your messages already. To see what I can do send { -command-help }.

# Two of the folder's own examples, in their letters.
which-topic = I did not get that. Did you ask 1 "{ $first }" or 2 "{ $second }"? Send 1 or 2.
    .tiny = Not clear. 1 "{ $first }" or 2 "{ $second }"? Send 1 or 2.
