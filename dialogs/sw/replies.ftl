# Noonwater inachosema kwa Kiswahili. Thamani ya ujumbe ni maneno yote; .short na .tiny husema vilevile kwa herufi chache.
# Namba zinakuja zimeandikwa tayari.

# $sheet: the sheet as a message that could be sent again.
told = Nimeelewa: { $sheet }.
    .tiny = { $sheet }.
took-word = Nimesoma { $word }.

# $verdict: enough, tight, short, or open when no garden was told.
answer = { $verdict ->
       *[enough] INATOSHA: karibu m3 { $water } kwa siku mwezi wa { $month }, hutosha m2 { $area }.
        [tight] INATOSHA KIDOGO TU: karibu m3 { $water } kwa siku mwezi wa { $month }, hutosha m2 { $area }.
        [short] HAITOSHI: karibu m3 { $water } kwa siku mwezi wa { $month }, hutosha m2 { $area } tu.
        [open] Karibu m3 { $water } kwa siku mwezi wa { $month }, hutosha m2 { $area }.
    }
    .tiny = { $verdict ->
       *[enough] INATOSHA: m3 { $water }/siku { $month }, m2 { $area }.
        [tight] KIDOGO TU: m3 { $water }/siku { $month }, m2 { $area }.
        [short] HAITOSHI: m3 { $water }/siku { $month }, m2 { $area }.
        [open] m3 { $water }/siku { $month }, m2 { $area }.
    }
answer-no-need = Karibu m3 { $water } kwa siku mwezi wa { $month }; zao halihitaji kumwagiliwa wakati huo.
    .tiny = m3 { $water }/siku { $month }, hakuna haja ya kumwagilia.
no-water = HAKUNA MAJI: pampu hii haiwezi kupandisha maji mita { $lift } hapa.
    .tiny = HAKUNA MAJI: mita { $lift } ni juu mno.
assumed = Nimekadiria: { $things }.
assumed-pump = pampu { $volts }V { $flow } l/h { $head }m
    .tiny = pampu { $flow } l/h
assumed-volts = pampu { $volts }V
    .tiny = { $volts }V
assumed-bore = kipenyo { $bore } mm
    .tiny = { $bore } mm
assumed-flat = paneli zimelala
    .tiny = zimelala
assumed-panels = paneli { $panels } W
    .tiny = { $panels } W
assumed-crop = { $crop }
assumed-watering = maji kwa { $watering }
    .tiny = { $watering }
assumed-place = mahali { $place }
    .tiny = { $place }

over-driven = Paneli ni nyingi mno: saa sita zinachakaza pampu. Tumia { $panels }.
    .short = Pampu itachakaa: tumia paneli { $panels }.
    .tiny = Inachakaa: paneli { $panels } tu.
over-driven-always = Volti ni kubwa mno: saa sita zinachakaza pampu. Tumia paneli ndogo zaidi.
    .short = Pampu itachakaa: paneli ndogo zaidi.
    .tiny = Volti nyingi: paneli ndogo.
well-runs-dry = Pampu inavuta kuliko kisima kinavyotoa: izime kabla maji hayajaisha.
    .short = Kisima kitakauka: angalia.
    .tiny = Kisima kitakauka.
high-voltage = Hatari: zaidi ya V 60. Fundi umeme mwenye leseni aunganishe, kwa sheria za eneo lako.
    .short = Zaidi ya V 60: fundi umeme mwenye leseni tu.
    .tiny = Zaidi ya V 60: fundi mwenye leseni.

safety = { $line ->
       *[switch_off] Zima na uchomoe kabla ya kugusa pampu au waya.
        [dry_joints] Viungo vya waya na swichi viwe vikavu, nje ya maji.
        [panels_live] Paneli hutoa umeme kwenye mwanga wowote: zifunike kabla ya kuunga waya.
        [dc_breaker] Tumia bureka ya DC: ya AC inaweza kushindwa kukata moto wa DC.
        [children] Watoto wasikaribie pampu, ukingo wa mto wala kisima wazi.
        [never_dry] Usiache pampu izunguke bila maji.
        [two_people] Kwenye upepo, watu wawili wabebe paneli. Zifunge vizuri.
        [not_drink] Usinywe maji haya bila kuyatibu.
        [electrician] Zaidi ya V 60, umeme wa gridi au ndani ya kisima: fundi mwenye leseni, sheria za eneo.
    }
    .tiny = { $line ->
       *[switch_off] Zima kabla ya kugusa pampu.
        [dry_joints] Viungo na swichi viwe vikavu.
        [panels_live] Funika paneli kabla ya kuunga.
        [dc_breaker] Bureka ya DC, si ya AC.
        [children] Watoto mbali na pampu na mto.
        [never_dry] Pampu isizunguke bila maji.
        [two_people] Upepo: watu wawili, funga paneli.
        [not_drink] Usinywe bila kuyatibu.
        [electrician] Zaidi ya 60V: fundi umeme.
    }

next-word = Tuma { $word } upate zaidi.
    .tiny = Tuma { $word }.

# The one question of a message, by field.
ask = { $field ->
       *[lift] Ni mita ngapi kupanda kutoka majini hadi maji yatokapo? Mfano: kimo 3
        [low] Ni mita ngapi kupanda mto ukipungua kabisa? Mfano: kiangazi 4
        [pipe] Bomba ni mita ngapi kutoka pampu hadi bustani? Mfano: bomba 30
        [bore] Upana wa ndani wa bomba ni mm ngapi? Mfano: kipenyo 50
        [panel] Paneli ni ngapi, za wati ngapi? Mfano: paneli 3x100
        [stance] Paneli zimelala, zimefungwa imara, au zinageuzwa kwa mkono?
        [pump] Pampu imeandikwaje? Mfano: pampu 12v 9000 l/h 6m 10a
        [suction] Pampu iko mita ngapi juu ya maji? Mfano: ufyonzaji 3
        [well] Kisima kinatoa lita ngapi kwa saa? Mfano: kisima 2000
        [garden] Bustani ina mita za mraba ngapi? Mfano: bustani 900
        [crop] Zao gani? Mfano: zao nyanya
        [soil] Udongo gani: mchanga, tifutifu au mfinyanzi? Mfano: udongo mfinyanzi
        [month] Mwezi gani? Mfano: mwezi septemba
        [watering] Unamwagilia vipi: mfereji, mpira, matone au kunyunyizia?
        [wire] Waya ni mita ngapi kutoka paneli hadi pampu? Mfano: waya 10
        [place] Uko karibu na wapi? Mfano: mahali Kito
    }
    .tiny = { $field ->
       *[lift] Kimo kwa mita?
        [low] Kimo wakati wa kiangazi?
        [pipe] Bomba mita ngapi?
        [bore] Kipenyo kwa mm?
        [panel] Paneli? Mfano: paneli 3x100
        [stance] Zimelala, imara au zinageuzwa?
        [pump] Pampu imeandikwaje?
        [suction] Pampu mita ngapi juu ya maji?
        [well] Kisima lita ngapi kwa saa?
        [garden] Bustani m2 ngapi?
        [crop] Zao gani?
        [soil] Mchanga, tifutifu au mfinyanzi?
        [month] Mwezi gani?
        [watering] Mfereji, mpira, matone au kunyunyizia?
        [wire] Waya mita ngapi?
        [place] Mahali gani?
    }

refused-range = { $field } { $value } haiwezekani: iwe { $low } hadi { $high } { $unit }.
    .tiny = { $field }: { $low } hadi { $high } { $unit } tu.
refused-unit = { $field } haipimwi kwa kipimo hicho: tuma kwa { $unit }.
refused-unknown-unit = { $field }: sikijui kipimo hicho. Tuma kwa { $unit }.
refused-no-number = { $field }: weka namba baada yake.
refused-whole = { $field }: iwe namba nzima.
refused-one = { $field }: tuma namba moja tu.
refused-gallon = Galoni za Marekani au za Uingereza? Tuma marekani (l/h { $us }) au uingereza (l/h { $imperial }).
refused-which = { $value } ni ya nini? Weka neno mbele yake, kama: kimo { $value }
refused-test = Jaribio linahitaji lita na sekunde. Mfano: jaribio 75 l 40 s 3 m

is-it-right = { $field } { $value } { $unit } si kawaida. Ni sahihi? Tuma ndiyo, au { $field } na namba sahihi.
    .tiny = { $field } { $value } { $unit }: sahihi? Tuma ndiyo au { $field } upya.
low-below-lift = Kimo cha kiangazi m { $low } ni kidogo kuliko kimo m { $lift }. Ni sahihi? Tuma ndiyo, au kiangazi na namba sahihi.
# Of a message in a list, whose sender cannot be asked.
unusual = { $field } { $value } { $unit } si kawaida: hakikisha.
unusual-low = Kiangazi { $low } m ni chini ya kimo { $lift } m: hakikisha.
# A word that is of use in a talk only, in a message of a list.
only-in-talk = { $word } hufanya kazi kwenye simu tu. Hapa hakuna kilichofanyika.
did-you-mean = Ulimaanisha { $meant } ulipoandika { $word }? Tuma ndiyo au hapana.
    .tiny = Ulimaanisha { $meant }? Tuma ndiyo au hapana.
passed-over = Sikuelewa: { $words }.
nothing-understood = Sikuelewa. Tuma kwa mfano: kimo 3 bomba 30 paneli 3x100 bustani 900 (mita, mita, wati, m2)
place-unknown = Sipajui { $name }. Mahali: { $known }. Tuma: mahali { $first }
    .tiny = Sipajui hapo. Tuma: mahali { $first }
still-same = Bado ni bustani ileile na pampu ileile? Tuma ndiyo au hapana.
new-sheet = Tunaanza upya.
not-understood = Sikuelewa.
only-start-read = Ujumbe ni mrefu: nimesoma mwanzo tu.
no-more = Ni hayo tu. Maneno: funga, tunza, waya, bomba, msaada.

# What a field is and how to measure it, when its word comes alone.
about = { $field ->
       *[lift] Kimo: mita kwenda juu kutoka majini hadi maji yatokapo. Pima kwa kamba. Mfano: kimo 3
        [low] Kiangazi: kimo wakati mto au kisima kimepungua kabisa. Mfano: kiangazi 4
        [pipe] Bomba: mita kutoka pampu hadi bustani. Hatua moja ni karibu m 0.7. Mfano: bomba 30
        [bore] Kipenyo: upana wa ndani wa bomba. Bomba jembamba hupunguza nguvu. Mfano: kipenyo 50
        [panel] Paneli: ngapi, na wati zilizoandikwa nyuma. Mfano: paneli 3x100
        [stance] Mkao: zimelala, zimefungwa imara, au kugeuza kwa mkono kufuata jua. Mfano: kugeuza
        [pump] Pampu: volti, lita kwa saa na mita za juu kwenye kibandiko. Mfano: pampu 12v 9000 l/h 6m 10a
        [suction] Ufyonzaji: mita pampu ilivyo juu ya maji; 0 ikiwa majini. Mfano: ufyonzaji 3
        [well] Kisima: lita kwa saa zinazorudi. Punguza m 1, pima muda. Mfano: kisima 2000
        [garden] Bustani: urefu x upana kwa mita. Mfano: bustani 50x30
        [crop] Zao: kila moja hunywa kiasi chake. Mfano: zao nyanya
        [soil] Udongo: tonge bichi likivunjika: mchanga; likishika: tifutifu; likivingirika kama uzi: mfinyanzi.
        [month] Mwezi: unaouliza; la sivyo nachukua wenye ukame. Mfano: mwezi septemba
        [watering] Umwagiliaji: mfereji, mpira, matone au kunyunyizia. Matone hutumia maji kidogo.
        [wire] Waya mrefu na mwembamba hupoteza umeme. Uwe mfupi na mnene, na bureka ya DC. Mfano: waya 10
        [place] Mahali: kijiji chako au cha karibu ninachokijua, kwa jua na mvua. Mfano: mahali Kito
    }
bore-best = Bomba m { $metres }: chukua mm { $bore } ndani. Saa sita linakula kimo cha m { $loss } tu; jembamba linakula zaidi.
    .tiny = Bomba m { $metres }: mm { $bore } hupoteza m { $loss }; jembamba zaidi sana.
bore-told = Bomba m { $metres } la mm { $bore }: saa sita linakula kimo cha m { $loss }. Ikizidi m 1 chukua pana zaidi.
    .tiny = mm { $bore } hupoteza m { $loss }; ikizidi m 1 chukua pana.

# Placing and joining the set, one step a message.
setup = { $step ->
       *[mud] 1/8 Ninginiza pampu juu ya tope, ndani ya ndoo yenye matundu madogo na wavu: ni chujio.
        [float] 2/8 Funga ndoo kwa kamba chini ya boya (dumu lililofungwa) ifuate maji yakipanda na kushuka.
        [joints] 3/8 Viungo vyote na swichi vikae juu ya maji, kwenye nguzo, chini ya kifuniko.
        [cover] 4/8 Funika paneli kwa kitambaa unapounga waya: chanya kwa chanya, hasi kwa hasi.
        [hose] 5/8 Laza bomba bila kukunja, lisukume vizuri, funga kwa klipu pande zote mbili.
        [first_start] 6/8 Mara ya kwanza: pampu majini, kisha washa. Dakika 1 bila maji: zima, kagua chanya na hasi.
        [tie_down] 7/8 Funga mkokoteni kwa vigingi: upepo huinua paneli. Ondoa kivuli, hata cha jani.
        [home] 8/8 Jioni zima, chomoa, peleka pampu na paneli nyumbani. Usivute waya.
    }
# What to clean, look at and replace.
care = { $step ->
       *[week] 1/4 Kila wiki: osha chujio na ndoo, pangusa paneli kwa maji na kitambaa laini asubuhi.
        [month] 2/4 Kila mwezi: angalia viungo vya moto au kijani, waya zilizokatika, uvujaji; kaza klipu.
        [season] 3/4 Kila msimu: jaribu bureka, kamba na boya; kisha: jaribio 75 l 40 s 3 m
        [replace] 4/4 Maji yamepungua? Safisha chujio, tafuta uvujaji, kisha brashi mpya au pampu mpya.
    }
help = { $step ->
       *[begin] Tuma: kimo 3 bomba 30 paneli 3x100 bustani 900 (m, m, W, m2). Ni mwongozo tu: sheria za eneo na fundi umeme mwenye leseni kwanza.
        [words] Maneno: zaidi, gharama, badili, jua, lini, jaribio, funga, tunza, kumbusha, mpya, mtu, acha, anza, sahau.
        [fields] Tuma neno peke yake upate maelezo: kimo kiangazi bomba kipenyo paneli mkao pampu ufyonzaji kisima bustani zao udongo mwezi umwagiliaji waya mahali.
    }

# Menus of a screen; a digit stands before each line.
menu = { $menu ->
       *[home] Pampu ya jua na bustani
        [other] Mengine
        [answered] Jibu lako
        [languages] Lugha
        [stopped] Uliomba usipokee ujumbe.
    }
choice = { $item ->
       *[answer] Je, itatosha bustani?
        [new] Bustani mpya
        [setup] Kufunga pampu
        [care] Kutunza
        [other] Mengine
        [language] Lugha
        [person] Ongea na mtu
        [stop] Acha ujumbe
        [start] Pokea ujumbe tena
        [yes] Ndiyo
        [no] Hapana
        [more] Zaidi
        [change] Nibadilishe nini
        [cost] Gharama
        [back] Rudi
    }
    .tiny = { $item ->
       *[answer] Bustani yangu
        [new] Mpya
        [setup] Kufunga
        [care] Kutunza
        [other] Mengine
        [language] Lugha
        [person] Mtu
        [stop] Acha
        [start] Anza
        [yes] Ndiyo
        [no] Hapana
        [more] Zaidi
        [change] Badili
        [cost] Gharama
        [back] Rudi
    }
no-such-choice = Bonyeza namba ya orodha.
also-by-sms = Umetumwa pia kwa SMS.
busy = Watu ni wengi sasa. Tafadhali piga tena baada ya dakika moja.
stopped = Hutapokea ujumbe tena. Tuma anza kurudi.
started = Karibu tena. Tuma: kimo 3 bomba 30 paneli 3x100 bustani 900
handed-over = Mtu wa huduma atasoma ujumbe huu na kukujibu.
handed-back = Sasa unaandikia programu tena. Tuma { $word } ukihitaji mtu.
forget-sure = Nifute yote niliyohifadhi kuhusu wewe? Tuma ndiyo kufuta.
kept = Hakuna kilichofutwa.
forgotten = Yote yamefutwa. Kuanza tena tuma: kimo 3 bomba 30 paneli 3x100 bustani 900

poor-day = Maji saa { $hours } kwa siku; siku mbaya m3 { $water }.
    .tiny = Saa { $hours }/siku; siku mbaya m3 { $water }.
noon = Saa sita ya jua kali: l/min { $flow }, m { $loss } hupotea kwenye bomba la mm { $bore }.
    .tiny = Saa sita l/min { $flow }.
wire = Waya m { $metres }: mm2 { $size }, bureka ya DC A { $breaker } (ya AC inaweza kushindwa kukata; haizimi pampu iliyokwama).
    .tiny = Waya mm2 { $size }, bureka ya DC A { $breaker }; haizimi pampu iliyokwama.
wire-no-breaker = Waya m { $metres }: mm2 { $size }. Umeme ni mwingi kwa bureka moja: gawa mara mbili.
    .tiny = Waya mm2 { $size }; umeme mwingi kwa bureka moja: gawa.
string-fuse = Fyuzi ya A { $fuse } kwa kila mstari wa paneli.
    .tiny = Fyuzi A { $fuse } kila mstari.

# Jaribio la ndoo: $percent ya maji yanayotarajiwa, $flow kwa lita kwa dakika.
test-judged = { $health ->
       *[healthy] Jaribio: l/min { $flow }, { $percent } % ya nilivyotarajia: pampu ni nzima.
        [check] Jaribio: l/min { $flow }, { $percent } % tu ya nilivyotarajia. Safisha chujio, ziba uvujaji, futa na elekeza paneli, jaribu tena.
        [fault] Jaribio: l/min { $flow }, { $percent } % tu ya nilivyotarajia: kuna hitilafu. Angalia brashi, feni, viungo, waya; kimo ni sahihi?
    }
    .tiny = { $health ->
       *[healthy] Jaribio { $percent } %: pampu nzima.
        [check] Jaribio { $percent } %: chujio, uvujaji, paneli, jaribu tena.
        [fault] Jaribio { $percent } %: hitilafu. Brashi, feni, viungo, waya, kimo?
    }
test-not-used = Jaribio limehifadhiwa, halitumiki: l/min { $flow } ni { $percent } % ya pampu hii. Pima tena lita, sekunde na mita.
    .tiny = Halitumiki ({ $percent } %): pima tena lita, sekunde, mita.
test-cloudy = Kukiwa na mawingu siwezi kuamua. Jaribu tena jua kali karibu na saa sita mchana.
test-low-sun = Jua lilikuwa chini mno. Jaribu karibu na mchana, au tuma na saa (jaribio 75 l 40 s 3 m 11:30).
test-nothing-expected = Kwa kibandiko pampu haitoi maji kwa mita { $outlet } wakati huo. Mita { $outlet } ni sahihi? Tuma tena jaribio.
test-taken = Nimeelewa: { $time }, anga { $sky }, juu mita { $outlet }.
    .tiny = { $time }, { $sky }, mita { $outlet }.
test-how = { $step ->
       *[bucket] Jua kali karibu na mchana jaza ndoo ya lita unazojua mwisho wa mpira, pima sekunde. Tuma: jaribio 75 l 40 s 3 m 11:30
        [heights] Jaribu mara mbili, mwisho ukishikwa kwa vimo viwili (m 2 na m 4 juu ya maji): nitaijua pampu yako. Sema ukungu au mawingu kama yapo.
    }
own-numbers = Kwa majaribio yako ({ $tests }).
    .short = Majaribio yako ({ $tests }).
    .tiny = Jaribio ({ $tests }).
suction-too-high = Pampu iko juu mno ya maji: hapa inavuta mita { $metres } tu. Ishushe.
    .tiny = Pampu juu mno: mita { $metres } tu hapa.

# Mikao mitatu ya siku; $percent ni mwanga unaoongezeka kuliko kulala.
stances = { $month }: hadi { $turn } { $first }; kisha { $second }; kuanzia { $again } { $third }. Mwanga { $percent } % zaidi ya kulala.
    .tiny = { $month }: hadi { $turn } { $first }, kisha { $second }, toka { $again } { $third }: +{ $percent } %.
facing = { $point ->
       *[north] elekea kaskazini, digrii { $tilt }
        [north_east] elekea kaskazini-mashariki, digrii { $tilt }
        [east] elekea mashariki, digrii { $tilt }
        [south_east] elekea kusini-mashariki, digrii { $tilt }
        [south] elekea kusini, digrii { $tilt }
        [south_west] elekea kusini-magharibi, digrii { $tilt }
        [west] elekea magharibi, digrii { $tilt }
        [north_west] elekea kaskazini-magharibi, digrii { $tilt }
        [up] lala
    }
    .short = { $point ->
       *[north] kaskazini digrii { $tilt }
        [north_east] kaskazini-mashariki digrii { $tilt }
        [east] mashariki digrii { $tilt }
        [south_east] kusini-mashariki digrii { $tilt }
        [south] kusini digrii { $tilt }
        [south_west] kusini-magharibi digrii { $tilt }
        [west] magharibi digrii { $tilt }
        [north_west] kaskazini-magharibi digrii { $tilt }
        [up] lala
    }
    .tiny = { $point ->
       *[north] Kask { $tilt }
        [north_east] Kask-Mash { $tilt }
        [east] Mash { $tilt }
        [south_east] Kus-Mash { $tilt }
        [south] Kus { $tilt }
        [south_west] Kus-Magh { $tilt }
        [west] Magh { $tilt }
        [north_west] Kask-Magh { $tilt }
        [up] lala
    }
good-hours = Maji mengi siku ya jua, { $month }: { $from } hadi { $to }.
    .tiny = Maji mengi { $month } { $from }-{ $to }.
interval = { $often ->
       *[days] Mwagilia { $crop } kwenye { $soil } kila siku { $days }, lita { $litres } kwa m2.
        [daily] Mwagilia { $crop } kwenye { $soil } kila siku, lita { $litres } kwa m2.
    }
    .tiny = { $often ->
       *[days] Kila siku { $days } lita { $litres }/m2.
        [daily] Kila siku lita { $litres }/m2.
    }
interval-soil-taken = { $often ->
       *[days] Mwagilia { $crop } kila siku { $days }, lita { $litres } kwa m2 (udongo { $soil } umechukuliwa; tuma wako: udongo mfinyanzi).
        [daily] Mwagilia { $crop } kila siku, lita { $litres } kwa m2 (udongo { $soil } umechukuliwa; tuma wako: udongo mfinyanzi).
    }
    .tiny = { $often ->
       *[days] Kila siku { $days } lita { $litres }/m2 ({ $soil }).
        [daily] Kila siku lita { $litres }/m2 ({ $soil }).
    }

reminders-set = Nitakukumbusha: { $list }. Kuacha: kumbusha hapana
    .tiny = Kumbusho: { $list }. Kuacha: kumbusha hapana
reminder = { $kind ->
       *[brushes] angalia brashi, { $date }
        [low_water] maji kupungua, { $date }
    }
    .tiny = { $kind ->
       *[brushes] brashi { $date }
        [low_water] maji chini { $date }
    }
date = { $day } { $month } { $year }
reminders-off = Sitakukumbusha tena hilo.
no-brushes = Pampu hii ina umeme wake na haina brashi.
brushes-due = Pampu yako imefanya kazi saa { $hours } hivi. Angalia brashi; zikiisha weka mpya. Kisha tuma: kumbusha pampu. Kuacha: kumbusha hapana
    .tiny = Pampu saa { $hours }: angalia brashi, kisha: kumbusha pampu
low-water-comes = Maji hupungua kabisa { $month }. Pima kimo wakati huo, tuma: kiangazi 6. Shusha pampu na maji. Kuacha: kumbusha hapana
    .tiny = Maji chini kabisa { $month }: pima, tuma: kiangazi 6

# $month: m1 to m12.
month = { $month ->
       *[m1] Januari
        [m2] Februari
        [m3] Machi
        [m4] Aprili
        [m5] Mei
        [m6] Juni
        [m7] Julai
        [m8] Agosti
        [m9] Septemba
        [m10] Oktoba
        [m11] Novemba
        [m12] Desemba
    }
    .tiny = { $month ->
       *[m1] Jan
        [m2] Feb
        [m3] Mac
        [m4] Apr
        [m5] Mei
        [m6] Jun
        [m7] Jul
        [m8] Ago
        [m9] Sep
        [m10] Okt
        [m11] Nov
        [m12] Des
    }

# Kinachofanya seti itoshe; $place ni 1 hadi 3.
fix = { $place }: { $what }: { $cost } zaidi, inamwagilia { $area } m2.
    .tiny = { $place }: { $what }, +{ $cost }.
fix-saves = { $place }: { $what }: inaokoa { $cost }, inamwagilia { $area } m2.
    .tiny = { $place }: { $what }, inaokoa { $cost }.
fix-free = { $place }: { $what }: bila gharama, inamwagilia { $area } m2.
    .tiny = { $place }: { $what }, bure.
fix-no-price = { $place }: { $what }: inamwagilia { $area } m2.
    .tiny = { $place }: { $what }.
change-bore = bomba { $bore } mm
change-panels = paneli { $count }
change-turned = geuza paneli kufuata jua
change-sets = pampu { $count }, kila moja na paneli na bomba lake
change-wire = waya { $size } mm2
change-watering = mwagilia kwa { $watering }
change-garden = shamba { $garden } m2
nothing-to-change = Seti yako inatosha: hakuna cha kubadilisha.
no-change-helps = Hakuna badiliko dogo linalotosha: omba mtu wa huduma.
cost = Vifaa vyote { $first }; uchakavu kwa mwaka { $yearly }.
    .tiny = Vifaa { $first }, kwa mwaka { $yearly }.
cost-first = Vifaa vyote { $first }.
cost-unknown = Bei zote hazijulikani hapa.
petrol = Petroli: pampu { $first }, kwa mwaka { $yearly }.
    .tiny = Petroli { $first }, kwa mwaka { $yearly }.
payback = Baada ya miezi { $months } imegharimu chini ya petroli.
    .tiny = Inajilipa kwa miezi { $months }.
payback-at-once = Nafuu kuliko petroli tangu siku ya kwanza.
    .tiny = Nafuu kuliko petroli.
no-price = Hakuna bei ya: { $parts }.
proposal = Nunua paneli { $panels } W, pampu { $volts }V { $flow } l/h, bomba { $bore } mm, waya { $wire } mm2, { $breaker }: { $cost }.
    .tiny = Nunua { $panels } W, pampu { $volts }V { $flow } l/h, bomba { $bore }, { $breaker }: { $cost }.
proposal-no-price = Nunua paneli { $panels } W, pampu { $volts }V { $flow } l/h, bomba { $bore } mm, waya { $wire } mm2, { $breaker }.
    .tiny = Nunua { $panels } W, pampu { $volts }V { $flow } l/h, bomba { $bore }, { $breaker }.
# The $breaker of a proposal: its amperes, or that none is made so large.
proposal-breaker = swichi kinga ya DC { $breaker } A
    .tiny = kinga DC { $breaker } A
proposal-no-breaker = hakuna swichi kinga ya DC kubwa hivyo: uliza fundi umeme
    .tiny = hakuna kinga kubwa hivyo
each-pump = Kila pampu na bomba, waya na kinga yake.
    .tiny = Kila moja bomba, waya, kinga yake.
no-set = Hakuna seti inayomwagilia kiasi hicho hapa. Tuma shamba dogo zaidi, au mtu kwa huduma.

refused-spot = Mahali hapo hapawezekani: tuma digrii -60 hadi 60 na -180 hadi 180, kama: mahali -8.2 35.1
climate-town = Hali ya hewa ya { $town }.
climate-spot = Hali ya hewa ya { $town }, km { $distance }, kwa mwinuko wa { $altitude } m.
climate-spot-level = Hali ya hewa ya { $town }, km { $distance }; mwinuko uliochukuliwa { $altitude } m.
    .tiny = Hali ya hewa ya { $town }, km { $distance }.
climate-rough = Namba za KUKADIRIA: hali ya hewa inayojulikana karibu ni { $town }, km { $distance }, mwinuko { $altitude } m. Mtu atakagua.
    .short = KUKADIRIA: hali ya { $town }, km { $distance }. Mtu atakagua.
    .tiny = KUKADIRIA: hali ya km { $distance }. Mtu atakagua.

# Majaribio yaliyohifadhiwa bila kutumika, na jaribio ambalo sekunde moja inaamua.
test-again = Jaribio: l/min { $flow } ni { $percent } % ya nilivyotarajia, zaidi ya kibandiko. Pima tena: mawili yakilingana nitaamini.
    .tiny = Jaribio { $percent } %: zaidi ya kibandiko. Pima tena.
test-unsure = Jaribio: l/min { $flow }, { $percent } % ya nilivyotarajia: sekunde moja inaamua. Jaza ndoo 5 mfululizo, tuma lita na sekunde zote.
    .tiny = Jaribio { $percent } %: sekunde inaamua. Pima ndoo 5 mfululizo.
test-short = Chini ya sekunde 30 ni fupi: safari nyingine jaza ndoo 5 mfululizo.
    .tiny = Fupi: pima ndoo 5.
new-pump = Pampu mpya: majaribio ya ile ya zamani hayahesabiwi.
    .tiny = Pampu mpya, majaribio ya zamani yamefutwa.
is-new-pump = Je, ni pampu mpya yenye kibandiko kilekile? Tuma ndiyo kama ni mpya, hapana kama ni ile uliyoijaribu.
untested = Jaribio limeondolewa.
no-test = Hakuna jaribio la kuondoa.
