# Noonwater inachosema kwa Kiswahili. Thamani ya ujumbe ni maneno yote; .short na .tiny husema vilevile kwa herufi chache.
# Namba zinakuja zimeandikwa tayari.

# $sheet: the sheet as a message that could be sent again.
told = Nimeelewa: { $sheet }.
    .tiny = { $sheet }.
took-word = Nimesoma { $word }.

# $verdict: enough, tight, short, unfit (too much voltage), or open when no garden was told.
answer = { $verdict ->
       *[enough] INATOSHA: karibu m3 { $water } kwa siku mwezi wa { $month }, hutosha m2 { $area }.
        [tight] INATOSHA KWA SHIDA: karibu m3 { $water } kwa siku mwezi wa { $month }, hutosha m2 { $area }.
        [short] HAITOSHI: karibu m3 { $water } kwa siku mwezi wa { $month }, hutosha m2 { $area } tu.
        [unfit] HAIFAI: saa sita paneli hizi zinaipa pampu volti nyingi mno: haitadumu.
        [open] Karibu m3 { $water } kwa siku mwezi wa { $month }, hutosha m2 { $area }.
    }
    .tiny = { $verdict ->
       *[enough] INATOSHA: m3 { $water }/siku { $month }, m2 { $area }.
        [tight] KWA SHIDA: m3 { $water }/siku { $month }, m2 { $area }.
        [short] HAITOSHI: m3 { $water }/siku { $month }, m2 { $area }.
        [unfit] HAIFAI: volti nyingi mno, pampu haitadumu.
        [open] m3 { $water }/siku { $month }, m2 { $area }.
    }
answer-no-need = Karibu m3 { $water } kwa siku mwezi wa { $month }; zao halihitaji kumwagiliwa wakati huo.
    .tiny = m3 { $water }/siku { $month }, hakuna haja ya kumwagilia.
no-water = HAKUNA MAJI: pampu hii haiwezi kupandisha maji mita { $lift } hapa.
    .tiny = HAKUNA MAJI: mita { $lift } ni juu mno.
assumed = Ikiwa { $things }.
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

over-driven = Paneli ni nyingi mno: saa sita mchana zinachakaza pampu. Tumia { $panels } tu.
    .tiny = Paneli nyingi: tumia { $panels } tu.
over-driven-less = Volti ni nyingi mno: saa sita zinachakaza pampu. Paneli { $panels } zinaiokoa lakini humwagilia m2 { $area } tu.
    .tiny = Inachakaa: paneli { $panels }, m2 { $area } tu.
wire-burns = Waya mm2 { $size } unaweza kuungua: chukua { $take }.
    .tiny = Waya { $size } huungua: chukua { $take }.
wire-burns-split = Waya mm2 { $size } unaweza kuungua: gawa seti mara mbili.
    .tiny = Waya { $size } huungua: gawa seti.
mismatch = Paneli za V { $panels } kwa pampu ya V { $pump }.
joined = { $how ->
       *[row] Unga paneli kwa mstari, + kwa -.
        [side] Unga paneli bega kwa bega: + kwa +, - kwa -.
        [both] Unga paneli { $series } kwa mstari (+ kwa -), mistari { $parallel } bega kwa bega.
    }
    .tiny = { $how ->
       *[row] Paneli kwa mstari.
        [side] Paneli bega kwa bega.
        [both] { $series } kwa mstari, mistari { $parallel }.
    }
left-over = { $panels } zimebaki.
hours = Jua la saa { $hours } linatosha m2 { $garden } zako. Tuta la m2 10: dakika { $minutes } sekunde { $seconds } au keni { $cans }.
    .tiny = Jua saa { $hours } linatosha. m2 10: dak { $minutes } sek { $seconds }.
ask-guess = { $guess ->
       *[amps] Pampu ina ampea ngapi kwenye lebo? Jibu linaweza kubadilika. Mfano: 10a
        [panel_v] Paneli ina volti ngapi kwenye lebo (Vmp)? Jibu linaweza kubadilika. Mfano: paneli 31v
        [bore_mm] Bomba lina kipenyo gani ndani, mm? Jibu linaweza kubadilika. Mfano: kipenyo 50
        [low_m] Maji yakipungua kimo ni mita ngapi? Jibu linaweza kubadilika. Mfano: kiangazi 4
        [bucket_test] Ili kuwa na hakika pima ndoo tano. Mfano: jaribio 75 l 40 s 3 m
    }
    .tiny = { $guess ->
       *[amps] Ampea za pampu? 10a
        [panel_v] Volti za paneli?
        [bore_mm] Kipenyo cha bomba mm?
        [low_m] Kimo wakati wa kiangazi?
        [bucket_test] Kuwa na hakika: JARIBIO.
    }
over-driven-always = Volti ni kubwa mno: saa sita mchana zinachakaza pampu. Tumia paneli ndogo zaidi.
    .short = Pampu itachakaa: paneli ndogo zaidi.
    .tiny = Volti nyingi: paneli ndogo.
well-runs-dry = Pampu inavuta zaidi ya kisima kinavyotoa. Bana maji kwenye TOKEO au umwagilie kwa zamu; kamwe si kwenye ingizo, isiende bila maji.
    .short = Kisima huenda kikakauka: bana tokeo.
    .tiny = Kisima kitakauka.
high-voltage = Hatari: zaidi ya V 60. Fundi umeme mwenye leseni aunganishe, kwa kufuata sheria za eneo lako.
    .short = Zaidi ya V 60: fundi umeme mwenye leseni tu.
    .tiny = Zaidi ya V 60: fundi mwenye leseni.

safety = { $line ->
       *[switch_off] Zima na uchomoe kabla ya kugusa pampu au waya.
        [dry_joints] Viungo vya waya na swichi viwe vikavu, nje ya maji.
        [panels_live] Paneli hutoa umeme kwenye mwanga wowote: zifunike kabla ya kuunga waya.
        [dc_breaker] Tumia breka (breaker) ya DC ya volti zako, + na - kama ilivyoandikwa: ya AC, au iliyogeuzwa, inaweza kushindwa kukata cheche.
        [children] Watoto wasikaribie pampu, ukingo wa mto wala kisima wazi.
        [never_dry] Usiache pampu izunguke bila maji.
        [two_people] Kwenye upepo, watu wawili wabebe paneli. Zifunge vizuri.
        [not_drink] Usinywe maji haya wala kuoshea vyakula vibichi bila kuyatibu. Yana pia kichocho: usiingie majini.
        [electrician] Zaidi ya V 60, umeme wa gridi au ndani ya kisima: fundi mwenye leseni, sheria za eneo.
        [in_water] Mtu asisimame, asifue wala asiogelee karibu na pampu ikifanya kazi. Waya uliochubuka au pampu iliyopasuka: usitumie.
        [well] Pampu ya kisimani huvutwa kwa kamba yake. Mtu asishuke: hewa mbaya huua. Kuunga waya: fundi umeme mwenye leseni.
        [storm] Radi ikinguruma: acha mkokoteni, waya na mto. Rudi dakika 30 baada ya radi ya mwisho.
        [plug] Zima kwanza, kisha chomoa. Plagi ikichomolewa pampu ikifanya kazi hutoa cheche zinazounguza mikono.
        [poison] Changanya sumu na mbolea mbali na mto na kisima, kwa madumu mengine. Usinyonye bomba kwa mdomo ili kulianzisha.
    }
    .short = { $line ->
       *[switch_off] Zima na uchomoe kabla ya kugusa pampu au waya.
        [dry_joints] Viungo vya waya na swichi viwe vikavu, nje ya maji.
        [panels_live] Paneli hutoa umeme kwenye mwanga wowote: zifunike kabla ya kuunga waya.
        [dc_breaker] Tumia breka (breaker) ya DC: ya AC inaweza kushindwa kukata cheche za DC.
        [children] Watoto wasikaribie pampu, ukingo wa mto wala kisima wazi.
        [never_dry] Usiache pampu izunguke bila maji.
        [two_people] Kwenye upepo, watu wawili wabebe paneli. Zifunge vizuri.
        [not_drink] Usinywe maji haya bila kuyatibu.
        [electrician] Zaidi ya V 60, umeme wa gridi au ndani ya kisima: fundi mwenye leseni, sheria za eneo.
        [in_water] Mtu asiwe majini karibu na pampu ikifanya kazi.
        [well] Mtu asishuke kisimani: hewa mbaya huua.
        [storm] Radi ikinguruma: acha mkokoteni, waya na mto.
        [plug] Zima kwanza, kisha chomoa: cheche huunguza.
        [poison] Changanya sumu na mbolea mbali na mto na kisima.
    }
    .tiny = { $line ->
       *[switch_off] Zima kabla ya kugusa pampu.
        [dry_joints] Viungo na swichi viwe vikavu.
        [panels_live] Funika paneli kabla ya kuunga.
        [dc_breaker] Tumia breka ya DC, si ya AC.
        [children] Watoto wakae mbali na pampu, mto.
        [never_dry] Pampu isizunguke bila maji.
        [two_people] Upepo: watu wawili, funga paneli.
        [not_drink] Usinywe bila kuyatibu.
        [electrician] > 60V, gridi: fundi wa leseni.
        [in_water] Pampu ikiwaka, usiwe majini.
        [well] Mtu asishuke kisimani: huua.
        [storm] Radi: acha mto na waya.
        [plug] Zima kwanza, kisha chomoa.
        [poison] Sumu iwe mbali na mto, kisima.
    }

next-word = Tuma { $word } upate zaidi.
    .tiny = Tuma { $word }.

# The one question of a message, by field.
ask = { $field ->
       *[lift] Maji yapande mita ngapi, kutoka mtoni hadi yanapotoka? Mfano: kimo 3
        [low] Mto ukipungua kabisa, maji yapande mita ngapi? Mfano: kiangazi 4
        [pipe] Bomba ni mita ngapi kutoka pampu hadi bustani? Mfano: bomba 30
        [bore] Upana wa ndani wa bomba ni mm ngapi? Mfano: kipenyo 50
        [panel] Paneli ni ngapi, za wati ngapi? Mfano: paneli 3x100
        [stance] Paneli zimelala, zimeinamishwa bila kugeuzwa, au zinageuzwa kwa mkono?
        [pump] Pampu imeandikwaje? Mfano: pampu 12v 9000 l/h 6m 10a
        [suction] Pampu iko mita ngapi juu ya maji? Mfano: ufyonzaji 3
        [well] Kisima kinatoa lita ngapi kwa saa? Mfano: kisima 2000
        [garden] Bustani ina mita za mraba ngapi? Mfano: bustani 900
        [crop] Zao gani? Mfano: zao nyanya
        [soil] Udongo gani: mchanga, tifutifu au mfinyanzi? Mfano: udongo mfinyanzi
        [month] Mwezi gani? Mfano: mwezi septemba
        [watering] Unamwagilia vipi: mfereji, mpira au ndoo, matone, kunyunyizia?
        [wire] Waya ni mita ngapi kutoka paneli hadi pampu? Mfano: waya 10
        [place] Uko karibu na mji gani? Mfano: mahali Kito
    }
    .tiny = { $field ->
       *[lift] Kimo kwa mita?
        [low] Kimo wakati wa kiangazi?
        [pipe] Bomba mita ngapi?
        [bore] Kipenyo kwa mm?
        [panel] Paneli? Mfano: paneli 3x100
        [stance] Zimelala, zimeinamishwa au zinageuzwa?
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
refused-twice = { $field }: nimesoma zaidi ya moja. Tuma moja tu.
refused-gallon = Galoni za Marekani au za Uingereza? Tuma marekani (l/h { $us }) au uingereza (l/h { $imperial }).
refused-which = { $value } ni ya nini? Weka neno kabla yake, kama: kimo 3
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
place-unknown = Sipajui { $name }. Mahali: { $known }. Tuma: mahali { $first }, au mji mkubwa wa karibu, au digrii: mahali -8.2 35.1
    .short = Sipajui { $name }. Tuma: mahali { $first }, au mji mkubwa wa karibu, au digrii: mahali -8.2 35.1
    .tiny = Sipajui hapo. Tuma: mahali { $first }
still-same = Bado ni bustani ileile na pampu ileile? Tuma ndiyo au hapana.
new-sheet = Tunaanza upya.
not-understood = Sikuelewa.
only-start-read = Ujumbe ni mrefu: nimesoma mwanzo tu.
no-more = Ni hayo tu. Maneno: funga, tunza, waya, bomba, msaada.

# What a field is and how to measure it, when its word comes alone.
about = { $field ->
       *[lift] Kimo: mita wima kutoka majini hadi maji yatokapo. Pima usawa kwa mpira mweupe uliojaa maji, au hesabu vimo vya macho. Mfano: kimo 3
        [low] Kiangazi: kimo wakati mto au kisima kimepungua kabisa. Mfano: kiangazi 4
        [pipe] Bomba: mita kutoka pampu hadi bustani. Hatua moja ni karibu m 0.7. Mfano: bomba 30
        [bore] Kipenyo: upana wa ndani wa bomba. Bomba jembamba hupunguza nguvu. Mfano: kipenyo 50
        [panel] Paneli: ngapi, na wati zilizoandikwa nyuma. Mfano: paneli 3x100
        [stance] Mkao: zimelala, zimeinamishwa bila kugeuzwa, au zinageuzwa kwa mkono kufuata jua. Mfano: zinageuzwa
        [pump] Pampu: volti, ampea, lita kwa saa na mita za juu kwenye kibandiko. Mfano: pampu 12v 9000 l/h 6m 10a
        [suction] Ufyonzaji: mita pampu ilivyo juu ya maji. Vali chini; jaza pampu na bomba kwanza, kamwe si kwa mdomo. Mfano: ufyonzaji 3
        [well] Kisima: punguza maji m 1, pima dakika yarudi. Lita kwa saa = 47000 x upana x upana / dakika; upana kwa mita. Mfano: kisima 2000
        [garden] Bustani: urefu x upana kwa mita. Mfano: bustani 50x30
        [crop] Zao: kila moja hunywa kiasi chake. Mfano: zao nyanya
        [soil] Udongo: tonge la udongo wenye maji likivunjika: mchanga; likishika: tifutifu; likiviringika kama uzi: mfinyanzi.
        [month] Mwezi: ule unaouliza; la sivyo nachukua wenye ukame zaidi. Mfano: mwezi septemba
        [watering] Umwagiliaji: mfereji, mpira au ndoo, matone, kunyunyizia. Matone hutumia maji kidogo zaidi. Mfano: matone
        [wire] Waya mrefu na mwembamba hupoteza umeme. Uwe mfupi na mnene, na breka ya DC. Mfano: waya 10
        [place] Mahali: kijiji chako au cha karibu ninachokijua, kwa jua na mvua. Mfano: mahali Kito
    }
    .tiny = { $field ->
       *[lift] Kimo: mita wima kutoka majini hadi maji yatokapo. Pima kwa kamba. Mfano: kimo 3
        [low] Kiangazi: kimo wakati mto au kisima kimepungua kabisa. Mfano: kiangazi 4
        [pipe] Bomba: mita kutoka pampu hadi bustani. Hatua moja ni karibu m 0.7. Mfano: bomba 30
        [bore] Kipenyo: upana wa ndani wa bomba. Bomba jembamba hupunguza nguvu. Mfano: kipenyo 50
        [panel] Paneli: ngapi, na wati zilizoandikwa nyuma. Mfano: paneli 3x100
        [stance] Mkao: zimelala, zimeinamishwa bila kugeuzwa, au zinageuzwa kwa mkono kufuata jua. Mfano: zinageuzwa
        [pump] Pampu: volti, ampea, lita kwa saa na mita za juu kwenye kibandiko. Mfano: pampu 12v 9000 l/h 6m 10a
        [suction] Ufyonzaji: mita pampu ilivyo juu ya maji. Vali chini; jaza pampu na bomba kwanza, kamwe si kwa mdomo. Mfano: ufyonzaji 3
        [well] Kisima: punguza m 1, pima dakika. Lita kwa saa = 47000 x upana x upana (m) / dakika. Mfano: kisima 2000
        [garden] Bustani: urefu x upana kwa mita. Mfano: bustani 50x30
        [crop] Zao: kila moja hunywa kiasi chake. Mfano: zao nyanya
        [soil] Udongo: tonge la udongo wenye maji likivunjika: mchanga; likishika: tifutifu; likiviringika kama uzi: mfinyanzi.
        [month] Mwezi: ule unaouliza; la sivyo nachukua wenye ukame zaidi. Mfano: mwezi septemba
        [watering] Umwagiliaji: mfereji, mpira au ndoo, matone, kunyunyizia. Matone hutumia maji kidogo zaidi. Mfano: matone
        [wire] Waya mrefu na mwembamba hupoteza umeme. Uwe mfupi na mnene, na breka ya DC. Mfano: waya 10
        [place] Mahali: kijiji chako au cha karibu ninachokijua, kwa jua na mvua. Mfano: mahali Kito
    }
bore-best = Bomba m { $metres }: chukua la mm { $bore } ndani. Saa sita mchana linakula kimo cha m { $loss } tu; jembamba linakula zaidi.
    .tiny = Bomba m { $metres }: la mm { $bore } hupoteza m { $loss }; jembamba hupoteza zaidi.
bore-told = Bomba m { $metres } la mm { $bore }: saa sita mchana linakula kimo cha m { $loss }. Ikizidi m 1 chukua bomba pana zaidi.
    .tiny = La mm { $bore } hupoteza m { $loss }; ikizidi m 1 chukua pana.

# Placing and joining the set, one step a message.
setup = { $step ->
       *[mud] 1/8 Ninginiza pampu kwa kamba, kamwe si kwa waya wake, juu ya tope, ndani ya ndoo yenye matundu madogo na wavu kuizunguka.
        [float] 2/8 Ninginiza ndoo chini ya boya (dumu safi lililofungwa, si la sumu); kamba ya pili kwenye kigingi. Mto unajaa? Itoe majini.
        [joints] 3/8 Bora waya mmoja usiokatwa, pampu hadi nguzo. Viungo vya waya na swichi kwenye kisanduku, juu ya mafuriko, waya uingie kwa chini.
        [cover] 4/8 Laza paneli kifudifudi au zifunike kwa kitambaa kizito cheusi. Kando kwa kando: unga + kwa +, - kwa -; moja baada ya nyingine: + kwa -. Pampu mwisho.
        [hose] 5/8 Bomba lisikunjike, lipande tu, klipu pande zote mbili, lifungwe kwenye kigingi: likijaa maji ni zito, huchomoka.
        [first_start] 6/8 Kagua + na -. Mtu asiwe majini. Zamisha pampu, itikise itoe hewa, washa. Maji kidogo baada ya dakika 1: zima, kagua + na - tena.
        [tie_down] 7/8 Funga mkokoteni na paneli kwa vigingi pande zote mbili. Dhoruba ikija: zima, laza paneli, funga, ondoka. Pasiwe na kivuli, hata cha jani.
        [home] 8/8 Jioni: zima, chomoa, toa pampu kwa kamba yake, isuuze, peleka pampu na paneli nyumbani. Ikibaki mtoni huibwa au hujaa tope.
    }
    .tiny = { $step ->
       *[mud] 1/8 Ninginiza pampu kwa kamba, si kwa waya wake, juu ya tope, ndani ya ndoo yenye matundu madogo na wavu.
        [float] 2/8 Ndoo chini ya boya (dumu lililofungwa, si la sumu); kamba ya pili kwenye kigingi. Mto unajaa? Itoe.
        [joints] 3/8 Bora waya mmoja hadi nguzo. Viungo vya waya na swichi kwenye kisanduku juu ya mafuriko.
        [cover] 4/8 Funika paneli kwa kitambaa kizito. Kando kwa kando: + kwa +, - kwa -; zikifuatana: + kwa -.
        [hose] 5/8 Bomba lisikunjike, lipande tu, klipu pande zote mbili, lifunge kwenye kigingi: likijaa ni zito.
        [first_start] 6/8 Kagua + na -. Mtu asiwe majini. Zamisha pampu, itikise itoe hewa, washa. Maji kidogo? Zima, kagua.
        [tie_down] 7/8 Vigingi pande zote mbili. Dhoruba: zima, laza paneli, funga, ondoka. Pasiwe na kivuli, hata cha jani.
        [home] 8/8 Jioni: zima, chomoa, toa pampu kwa kamba yake, isuuze, peleka vyote nyumbani: usiku kuna wezi na tope.
    }
# What to clean, look at and replace.
care = { $step ->
       *[week] 1/4 Kila wiki, ukiwa umezima: osha chujio na ndoo; pangusa paneli kwa maji na kitambaa laini kabla ya jua kali.
        [month] 2/4 Kila mwezi, baada ya kufanya kazi: zima, kisha gusa plagi na viungo vya waya. Chenye joto au kutu ya kijani kikatwe, kiundwe upya. Kaza klipu.
        [season] 3/4 Kila msimu: jaribu breka, kamba na boya; pima muda wa ndoo 5 au pipa: jaribio 75 l 40 s 3 m
        [replace] 4/4 Maji yamepungua? Kwanza chujio, uvujaji, paneli, viungo. Pampu iliyofungwa kabisa usiifungue: nunua mpya. Brashi (kaboni) ni kwa yenye vifuniko vyake.
    }
    .tiny = { $step ->
       *[week] 1/4 Kila wiki, umezima: osha chujio na ndoo; pangusa paneli kwa maji na kitambaa laini asubuhi.
        [month] 2/4 Kila mwezi: zima, gusa plagi na viungo vya waya. Chenye joto au kutu ya kijani: kata, unda upya.
        [season] 3/4 Kila msimu: jaribu breka, kamba na boya; pima muda wa ndoo 5 au pipa: jaribio 75 l 40 s 3 m
        [replace] 4/4 Maji yamepungua? Chujio, uvujaji, paneli, viungo kwanza. Usifungue pampu iliyofungwa kabisa.
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
       *[answer] Je, maji yatatosha?
        [new] Bustani mpya
        [setup] Kufunga pampu
        [care] Kutunza
        [other] Mengine
        [language] Lugha
        [person] Ongea na mtu
        [stop] Usinitumie ujumbe
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
also-by-sms = Jibu limetumwa pia SMS.
busy = Watu ni wengi sasa. Tafadhali piga tena baada ya dakika moja.
stopped = Hutapokea ujumbe tena. Tuma ANZA kurudi.
started = Karibu tena. Tuma: kimo 3 bomba 30 paneli 3x100 bustani 900
handed-over = Mtu wa huduma atasoma ujumbe huu na kukujibu.
handed-back = Sasa unaandikia programu tena. Tuma { $word } ukihitaji mtu.
forget-sure = Nifute yote niliyohifadhi kuhusu wewe? Tuma ndiyo kufuta.
kept = Hakuna kilichofutwa.
forgotten = Yote yamefutwa. Kuanza tena tuma: kimo 3 bomba 30 paneli 3x100 bustani 900

poor-day = Maji kwa masaa { $hours } kila siku; siku mbaya m3 { $water }.
    .tiny = Masaa { $hours }/siku; siku mbaya m3 { $water }.
noon = Saa sita mchana, jua kali: l/min { $flow }, m { $loss } hupotea kwenye bomba la mm { $bore }.
    .tiny = Saa sita l/min { $flow }.
wire = Waya m { $metres }: mm2 { $size }, breka ya DC A { $breaker } (ya AC inaweza kushindwa kukata; haizimi pampu iliyokwama).
    .short = Waya mm2 { $size }, breka ya DC A { $breaker }; haizimi pampu iliyokwama.
    .tiny = Mm2 { $size }, breka ya DC A { $breaker }; hailindi pampu.
wire-no-breaker = Waya m { $metres }: mm2 { $size }. Umeme ni mwingi kwa breka moja: gawa seti mara mbili.
    .tiny = Waya mm2 { $size }; umeme mwingi kwa breka moja: gawa seti.
string-fuse = Fyuzi ya A { $fuse } kwa kila mstari wa paneli.
    .tiny = Fyuzi A { $fuse } kila mstari.

# Jaribio la ndoo: $percent ya maji yanayotarajiwa, $flow kwa lita kwa dakika.
test-judged = { $health ->
       *[healthy] Jaribio: l/min { $flow }, { $percent } % ya nilivyotarajia: pampu ni nzima.
        [check] Jaribio: l/min { $flow }, { $percent } % tu ya nilivyotarajia. Safisha chujio, ziba uvujaji, pangusa na elekeza paneli, jaribu tena.
        [fault] Jaribio: l/min { $flow }, { $percent } % tu ya nilivyotarajia: kuna hitilafu. Angalia feni, viungo, waya, brashi (kaboni) kama zipo; kimo ni sahihi?
    }
    .tiny = { $health ->
       *[healthy] Jaribio { $percent } %: pampu nzima.
        [check] Jaribio { $percent } %: chujio, uvujaji, paneli, jaribu tena.
        [fault] Jaribio { $percent } %: hitilafu. Brashi, feni, viungo, waya, kimo?
    }
test-not-used = Jaribio limehifadhiwa, halitumiki: l/min { $flow } ni { $percent } % ya inavyopaswa kutoa. Pima tena lita, sekunde na mita.
    .tiny = Halitumiki ({ $percent } %): pima tena lita, sekunde, mita.
test-cloudy = Kukiwa na mawingu siwezi kuamua. Jaribu tena jua kali karibu na saa sita mchana.
test-low-sun = Jua lilikuwa chini mno. Jaribu karibu na saa sita mchana, au tuma saa pia, kwa namba 24 (jaribio 75 l 40 s 3 m 11:30).
test-nothing-expected = Kwa kibandiko pampu haitoi maji kwa mita { $outlet } wakati huo. Mita { $outlet } ni sahihi? Tuma tena jaribio.
test-taken = Nimeelewa: saa { $time } (kwa saa 24), anga { $sky }, juu mita { $outlet }.
    .tiny = { $time } (saa 24), { $sky }, mita { $outlet }.
test-how = { $step ->
       *[bucket] Jua kali karibu na saa sita mchana, bomba zima: pima ndoo 5 au pipa, sekunde 30 au zaidi. Tuma saa kwa namba 24: jaribio 75 l 40 s 3 m 11:30
        [heights] Jaribu mara mbili, mwisho UMEFUNGWA m 2 kisha m 4 juu ya maji, bomba zima: nitaijua pampu yako. Sema ukungu au mawingu kama yapo.
    }
    .tiny = { $step ->
       *[bucket] Mchana jua kali, bomba zima: pima ndoo 5, sekunde 30 au zaidi. Tuma (saa 24): jaribio 75 l 40 s 3 m 11:30
        [heights] Jaribu mara mbili, mwisho UMEFUNGWA m 2 kisha m 4 juu: nitaijua pampu yako. Ukungu, mawingu? Sema.
    }
own-numbers = Kwa majaribio yako ({ $tests }).
    .short = Majaribio yako ({ $tests }).
    .tiny = Jaribio ({ $tests }).
suction-too-high = Pampu iko juu mno kutoka majini: hapa inafyonza hadi mita { $metres } tu. Ishushe.
    .tiny = Pampu juu mno: mita { $metres } tu hapa.

# Mikao mitatu ya siku; $percent ni mwanga unaoongezeka kuliko kulala.
stances = { $month }: hadi { $turn } { $first }; kisha { $second }; kuanzia { $again } { $third }. Mwanga { $percent } % zaidi ya zikilala.
    .tiny = { $month }: hadi { $turn } { $first }, kisha { $second }, toka { $again } { $third }: +{ $percent } %.
facing = { $point ->
       *[north] zielekee kaskazini, ziinamishe digrii { $tilt }
        [north_east] zielekee kaskazini-mashariki, ziinamishe digrii { $tilt }
        [east] zielekee mashariki, ziinamishe digrii { $tilt }
        [south_east] zielekee kusini-mashariki, ziinamishe digrii { $tilt }
        [south] zielekee kusini, ziinamishe digrii { $tilt }
        [south_west] zielekee kusini-magharibi, ziinamishe digrii { $tilt }
        [west] zielekee magharibi, ziinamishe digrii { $tilt }
        [north_west] zielekee kaskazini-magharibi, ziinamishe digrii { $tilt }
        [up] zilaze bapa
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
        [up] zilaze
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
        [up] zilaze
    }
good-hours = Maji mengi siku ya jua, { $month }: { $from } hadi { $to }.
    .tiny = Maji mengi { $month } { $from }-{ $to }.
interval = { $often ->
       *[days] Mwagilia { $crop } kwenye { $soil } kila baada ya siku { $days }, lita { $litres } kwa m2.
        [daily] Mwagilia { $crop } kwenye { $soil } kila siku, lita { $litres } kwa m2.
    }
    .tiny = { $often ->
       *[days] Kila baada ya siku { $days }: lita { $litres }/m2.
        [daily] Kila siku lita { $litres }/m2.
    }
interval-soil-taken = { $often ->
       *[days] Mwagilia { $crop } kila baada ya siku { $days }, lita { $litres } kwa m2 (udongo { $soil } umechukuliwa; tuma wako: udongo mfinyanzi).
        [daily] Mwagilia { $crop } kila siku, lita { $litres } kwa m2 (udongo { $soil } umechukuliwa; tuma wako: udongo mfinyanzi).
    }
    .tiny = { $often ->
       *[days] Kila baada ya siku { $days }: lita { $litres }/m2 ({ $soil }).
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
no-brushes = Pampu hii ni ya kielektroniki, haina brashi (kaboni).
brushes-due = Pampu yako imefanya kazi masaa { $hours } hivi. Ina vifuniko vya brashi (kaboni)? Ziangalie; zikiisha weka mpya. Kisha tuma: kumbusha pampu. Kuacha: kumbusha hapana
    .short = Pampu imefanya kazi masaa { $hours }. Angalia brashi (kaboni); zikiisha weka mpya. Kisha: kumbusha pampu. Kuacha: kumbusha hapana
    .tiny = Pampu masaa { $hours }: angalia brashi, kisha: kumbusha pampu
low-water-comes = Maji hupungua kabisa { $month }. Pima kimo, tuma: kiangazi 4. Shusha pampu maji yanaposhuka. Kuacha: kumbusha hapana
    .tiny = Maji chini kabisa { $month }: pima, tuma: kiangazi 4

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
change-garden = bustani { $garden } m2
nothing-to-change = Seti yako inatosha: hakuna cha kubadilisha.
no-change-helps = Hakuna badiliko dogo linalotosha: tuma MTU uongee na mhudumu.
cost = Vifaa vyote { $first }; uchakavu kwa mwaka { $yearly }.
    .tiny = Vifaa { $first }, kwa mwaka { $yearly }.
cost-first = Vifaa vyote { $first }.
cost-unknown = Baadhi ya bei hazijulikani hapa.
petrol = Petroli: pampu { $first }, kwa mwaka { $yearly }.
    .tiny = Petroli { $first }, kwa mwaka { $yearly }.
payback = Inajilipa kwa siku { $days } za kumwagilia.
    .tiny = Inajilipa kwa siku { $days }.
payback-at-once = Nafuu kuliko petroli tangu siku ya kwanza.
    .tiny = Nafuu kuliko petroli.
no-price = Hakuna bei ya: { $parts }.
proposal = Nunua paneli { $panels } W, pampu { $volts }V { $flow } l/h, bomba { $bore } mm, waya { $wire } mm2, { $breaker }: { $cost }.
    .tiny = Nunua { $panels } W, pampu { $volts }V { $flow } l/h, bomba { $bore }, { $breaker }: { $cost }.
proposal-no-price = Nunua paneli { $panels } W, pampu { $volts }V { $flow } l/h, bomba { $bore } mm, waya { $wire } mm2, { $breaker }.
    .tiny = Nunua { $panels } W, pampu { $volts }V { $flow } l/h, bomba { $bore }, { $breaker }.
# The $breaker of a proposal: its amperes, or that none is made so large.
proposal-breaker = breka ya DC { $breaker } A
    .tiny = breka DC { $breaker } A
proposal-no-breaker = hakuna breka ya DC kubwa hivyo: uliza fundi umeme
    .tiny = hakuna breka kubwa hivyo
each-pump = Kila pampu iwe na bomba, waya na breka yake.
    .tiny = Kila moja: bomba, waya, breka.
no-set = Hakuna seti inayomwagilia kiasi hicho hapa. Tuma bustani ndogo zaidi, au MTU uongee na mhudumu.

refused-spot = Digrii ni -60 hadi 60 (kaskazini) na -180 hadi 180 (mashariki), mita -430 hadi 6000. Mfano: mahali -8.2 35.1 1200m
climate-town = Hali ya hewa ya { $town }.
climate-spot = Hali ya hewa ya { $town }, km { $distance }, kwa mwinuko wa { $altitude } m.
climate-spot-level = Hali ya hewa ya { $town }, km { $distance }; nimechukua mwinuko { $altitude } m, tuma wako kama ni tofauti.
    .short = Hali ya hewa ya { $town }, km { $distance }; mwinuko { $altitude } m.
    .tiny = Hali ya hewa ya { $town }, km { $distance }.
climate-rough = Namba za KUKADIRIA: hali ya hewa inayojulikana karibu ni { $town }, km { $distance }, mwinuko { $altitude } m. Mtu atakagua.
    .short = KUKADIRIA: hali ya { $town }, km { $distance }. Mtu atakagua.
    .tiny = KUKADIRIA: hali ya km { $distance }. Mtu atakagua.

# Seti ilivyo na kitu kimoja kikibadilishwa.
compared = Sasa { $now }. Kwa { $change }: { $then }. Kuchukua tuma { -command-yes }.
    .tiny = { $change }: { $then }. Chukua? { -command-yes }
outcome = { $verdict ->
       *[enough] INATOSHA, m3 { $water }/siku, m2 { $area }
        [tight] INATOSHA TU, m3 { $water }/siku, m2 { $area }
        [short] HAITOSHI, m3 { $water }/siku, m2 { $area }
        [unfit] HAIFAI, volti nyingi mno
        [open] m3 { $water }/siku, m2 { $area }
    }
outcome-no-need = m3 { $water }/siku, bila kumwagilia
sheet-kept = Hakuna kilichobadilishwa.
still-handed-over = Mtu ana ujumbe wako tayari. Kuona ninachoweza tuma { -command-help }.

# Two of the folder's own examples, in their letters.
which-topic = Sijaelewa. Uliuliza 1 "{ $first }" au 2 "{ $second }"? Tuma 1 au 2.
    .tiny = Sijaelewa. 1 "{ $first }" au 2 "{ $second }"? Tuma 1 au 2.
