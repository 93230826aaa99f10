# Ce que noonwater dit en français. La valeur d'un message est sa forme complète ; .short et .tiny disent la même chose en
# moins de lettres. Les nombres arrivent déjà écrits. language.toml remplace les lettres que l'alphabet des SMS n'a pas.

# $sheet: the sheet as a message that could be sent again.
told = J'ai compris : { $sheet }.
    .tiny = { $sheet }.
took-word = J'ai lu { $word }.
    .tiny = Lu : { $word }.

# $verdict: enough, tight, short, or open when no garden was told.
answer = { $verdict ->
       *[enough] SUFFISANT : environ { $water } m3 par jour en { $month }, de quoi arroser { $area } m2.
        [tight] TOUT JUSTE : environ { $water } m3 par jour en { $month }, de quoi arroser { $area } m2.
        [short] PAS ASSEZ : environ { $water } m3 par jour en { $month }, de quoi arroser seulement { $area } m2.
        [open] Environ { $water } m3 par jour en { $month }, de quoi arroser { $area } m2.
    }
    .tiny = { $verdict ->
       *[enough] SUFFISANT : { $water } m3/jour { $month }, { $area } m2.
        [tight] TOUT JUSTE : { $water } m3/jour { $month }, { $area } m2.
        [short] PAS ASSEZ : { $water } m3/jour { $month }, { $area } m2.
        [open] { $water } m3/jour { $month }, { $area } m2.
    }
answer-no-need = Environ { $water } m3 par jour en { $month } ; la culture n'a alors pas besoin d'arrosage.
    .tiny = { $water } m3/jour { $month }, pas d'arrosage utile.
no-water = PAS D'EAU : ce matériel ne peut pas la monter à { $lift } m ici.
    .tiny = PAS D'EAU : { $lift } m est trop haut.
assumed = Supposé : { $things }.
assumed-pump = pompe { $volts }V { $flow } l/h { $head }m
    .tiny = pompe { $flow } l/h
assumed-volts = pompe { $volts }V
    .tiny = { $volts }V
assumed-bore = tuyau de { $bore } mm
    .tiny = { $bore } mm
assumed-flat = panneaux à plat
    .tiny = à plat
assumed-panels = panneaux { $panels } W
    .tiny = { $panels } W
assumed-crop = { $crop }
assumed-watering = arrosage { $watering }
    .tiny = { $watering }
assumed-place = lieu { $place }
    .tiny = { $place }

over-driven = Trop de panneaux : à midi ils usent la pompe. Mettez-en { $panels }.
    .tiny = Trop de panneaux : mettez-en { $panels }.
over-driven-always = Tension trop forte : à midi elle use la pompe. Prenez des panneaux plus petits.
    .short = Pompe usée vite : panneaux plus petits.
    .tiny = Usure : panneaux plus petits.
well-runs-dry = La pompe prend plus que le puits ne donne : arrêtez avant qu'elle tourne à sec.
    .short = Puits vite vide : surveillez.
    .tiny = Puits à sec ?
high-voltage = Danger : plus de 60 V. Un électricien agréé doit câbler, selon les règles locales.
    .short = Plus de 60 V : électricien agréé seulement.
    .tiny = Plus de 60 V : électricien agréé.

safety = { $line ->
       *[switch_off] Coupez et débranchez avant de toucher la pompe ou les fils.
        [dry_joints] Gardez les raccords et l'interrupteur au sec, hors de l'eau.
        [panels_live] Un panneau au jour donne du courant : couvrez-le avant de relier les fils.
        [dc_breaker] Disjoncteur pour courant continu (DC) : un AC peut ne pas couper l'arc.
        [children] Pas d'enfants près de la pompe, de la berge ou d'un puits ouvert.
        [never_dry] Ne laissez jamais la pompe tourner à sec.
        [two_people] S'il y a du vent, portez les panneaux à deux et attachez-les.
        [not_drink] Ne buvez pas cette eau sans la traiter.
        [electrician] Plus de 60 V, secteur ou pompe dans un puits : électricien agréé, règles locales.
    }
    .tiny = { $line ->
       *[switch_off] Coupez avant de toucher la pompe.
        [dry_joints] Raccords et interrupteur au sec.
        [panels_live] Couvrez les panneaux pour relier.
        [dc_breaker] Disjoncteur DC, pas AC.
        [children] Pas d'enfants près de la pompe.
        [never_dry] Jamais de pompe à sec.
        [two_people] Vent : à deux, attachez tout.
        [not_drink] Ne buvez pas sans traiter.
        [electrician] 60 V, secteur : électricien.
    }

next-word = Envoyez { $word } pour en savoir plus.
    .tiny = Envoyez { $word }.

# The one question of a message, by field.
ask = { $field ->
       *[lift] Combien de mètres de haut, de l'eau jusqu'à la sortie ? Exemple : hauteur 3
        [low] Combien de mètres de haut quand l'eau est au plus bas ? Exemple : étiage 4
        [pipe] Combien de mètres de tuyau de la pompe au jardin ? Exemple : tuyau 30
        [bore] Quel diamètre intérieur du tuyau, en mm ? Exemple : diamètre 50
        [panel] Combien de panneaux, de combien de watts ? Exemple : panneau 3x100
        [stance] Les panneaux sont-ils à plat, fixes, ou tournés à la main ?
        [pump] Que dit l'étiquette de la pompe ? Exemple : pompe 12v 9000 l/h 6m 10a
        [suction] À combien de mètres au-dessus de l'eau est la pompe ? Exemple : aspiration 3
        [well] Combien de litres par heure donne le puits ? Exemple : puits 2000
        [garden] Quelle est la surface du jardin en mètres carrés ? Exemple : jardin 900
        [crop] Quelle culture ? Exemple : culture tomate
        [soil] Quel sol : sable, limon sableux, limon ou argile ? Exemple : sol argile
        [month] Quel mois ? Exemple : mois septembre
        [watering] Comment arrosez-vous : raie, lance, goutte à goutte ou asperseur ?
        [wire] Combien de mètres de câble des panneaux à la pompe ? Exemple : câble 10
        [place] Près de quel lieu êtes-vous ? Exemple : lieu Kito
    }
    .tiny = { $field ->
       *[lift] Hauteur en mètres ?
        [low] Hauteur à l'étiage ?
        [pipe] Mètres de tuyau ?
        [bore] Diamètre en mm ?
        [panel] Panneaux ? Exemple : panneau 3x100
        [stance] À plat, fixes ou tournés ?
        [pump] Étiquette de la pompe ?
        [suction] Pompe : mètres sur l'eau ?
        [well] Litres par heure du puits ?
        [garden] Jardin en m2 ?
        [crop] Quelle culture ?
        [soil] Sable, limon ou argile ?
        [month] Quel mois ?
        [watering] Raie, lance, goutte à goutte ou asperseur ?
        [wire] Mètres de câble ?
        [place] Quel lieu ?
    }

refused-range = { $field } { $value } n'est pas possible : il faut de { $low } à { $high } { $unit }.
    .tiny = { $field } : de { $low } à { $high } { $unit } seulement.
refused-unit = { $field } ne se mesure pas dans cette unité : envoyez en { $unit }.
refused-unknown-unit = { $field } : je ne connais pas cette unité. Envoyez en { $unit }.
refused-no-number = { $field } : mettez un nombre après.
refused-whole = { $field } : il faut un nombre entier.
refused-one = { $field } : envoyez un seul nombre.
refused-gallon = Gallons US ou anglais ? Envoyez us ({ $us } l/h) ou anglais ({ $imperial } l/h).
refused-which = { $value }, c'est quoi ? Mettez le mot devant, par exemple : hauteur { $value }
refused-test = Il faut les litres et les secondes. Exemple : essai 75 l 40 s 3 m

is-it-right = { $field } { $value } { $unit }, c'est rare. Est-ce juste ? Envoyez oui, ou { $field } et le bon nombre.
    .tiny = { $field } { $value } { $unit } : juste ? Envoyez oui ou { $field } corrigé.
low-below-lift = La hauteur à l'étiage { $low } m est plus petite que la hauteur { $lift } m. Est-ce juste ? Envoyez oui, ou étiage et le bon nombre.
# Of a message in a list, whose sender cannot be asked.
unusual = { $field } { $value } { $unit } est inhabituel : vérifiez.
unusual-low = Basses eaux { $low } m, moins que hauteur { $lift } m : vérifiez.
# A word that is of use in a talk only, in a message of a list.
only-in-talk = { $word } ne sert que par téléphone. Rien n'a été fait ici.
did-you-mean = Vouliez-vous dire { $meant } pour { $word } ? Envoyez oui ou non.
    .tiny = Vouliez-vous dire { $meant } ? Envoyez oui ou non.
passed-over = Pas compris : { $words }.
nothing-understood = Je n'ai pas compris. Envoyez par exemple : hauteur 3 tuyau 30 panneau 3x100 jardin 900 (mètres, mètres, watts, m2)
place-unknown = Je ne connais pas { $name }. Lieux : { $known }. Envoyez : lieu { $first }
    .tiny = Je ne connais pas ce lieu. Envoyez : lieu { $first }
still-same = Est-ce toujours le même jardin et la même pompe ? Envoyez oui ou non.
new-sheet = Nouvelle fiche.
not-understood = Je n'ai pas compris.
only-start-read = Message trop long : j'ai lu seulement le début.
no-more = C'est tout. Mots : installer, entretien, câble, tuyau, aide.

# What a field is and how to measure it, when its word comes alone.
about = { $field ->
       *[lift] Hauteur : mètres tout droit de l'eau à la sortie. Mesurez avec une corde. Exemple : hauteur 3
        [low] Étiage : la hauteur quand l'eau est au plus bas, en fin de saison sèche. Exemple : étiage 4
        [pipe] Tuyau : mètres de la pompe au jardin, au sol. Un pas fait environ 0,7 m. Exemple : tuyau 30
        [bore] Diamètre : largeur du tuyau à l'intérieur. Étroit, il mange la force. Exemple : diamètre 50
        [panel] Panneau : combien, et les watts écrits au dos. Exemple : panneau 3x100
        [stance] Pose : à plat, fixe incliné, ou tourné à la main vers le soleil. Exemple : tourné
        [pump] Pompe : volts, litres par heure, hauteur max de l'étiquette. Exemple : pompe 12v 9000 l/h 6m 10a
        [suction] Aspiration : mètres de la pompe au-dessus de l'eau ; 0 si elle est dedans. Exemple : aspiration 3
        [well] Puits : litres par heure qui reviennent. Baissez de 1 m et chronométrez. Exemple : puits 2000
        [garden] Jardin : longueur x largeur en mètres. Exemple : jardin 50x30
        [crop] Culture : chacune boit sa part. Exemple : culture tomate
        [soil] Sol : la boule mouillée tombe : sable ; tient : limon ; se roule en ficelle : argile. Exemple : sol argile
        [month] Mois : celui qui vous intéresse ; sinon le plus sec. Exemple : mois septembre
        [watering] Arrosage : raie, lance, goutte à goutte, asperseur. Le goutte à goutte prend le moins d'eau.
        [wire] Câble : long et fin, il perd le courant. Prenez court et gros, avec disjoncteur DC. Exemple : câble 10
        [place] Lieu : votre village ou le plus proche connu, pour le soleil et la pluie. Exemple : lieu Kito
    }
bore-best = Tuyau { $metres } m : prenez { $bore } mm dedans. À midi il ne mange que { $loss } m de hauteur ; plus étroit, bien plus.
    .tiny = Tuyau { $metres } m : { $bore } mm perd { $loss } m à midi, plus étroit bien plus.
bore-told = Tuyau { $metres } m de { $bore } mm : à midi il mange { $loss } m de hauteur. Au-delà de 1 m, prenez plus large.
    .tiny = { $bore } mm perd { $loss } m à midi ; plus de 1 m : plus large.

# Placing and joining the set, one step a message.
setup = { $step ->
       *[mud] 1/8 Pompe loin de la vase, pendue dans un seau percé de petits trous avec un filet autour : un filtre.
        [float] 2/8 Pendez le seau par une corde sous un flotteur (bidon fermé) : il suit le niveau de l'eau.
        [joints] 3/8 Tous les raccords et l'interrupteur restent plus haut que l'eau, sur un poteau, sous abri.
        [cover] 4/8 Couvrez les panneaux d'un tissu pendant que vous reliez : plus à plus, moins à moins.
        [hose] 5/8 Posez le tuyau sans pli ni angle vif, bien enfoncé, avec un collier à chaque bout.
        [first_start] 6/8 Premier essai : pompe sous l'eau, puis allumez. Rien après 1 minute : coupez, vérifiez plus et moins.
        [tie_down] 7/8 Attachez le chariot à des piquets : le vent soulève. Pas d'ombre, même d'une feuille.
        [home] 8/8 Le soir, coupez, débranchez, rentrez pompe et panneaux. Ne tirez pas sur le fil.
    }
# What to clean, look at and replace.
care = { $step ->
       *[week] 1/4 Chaque semaine : lavez le filtre et le seau, essuyez les panneaux à l'eau, tôt le matin.
        [month] 2/4 Chaque mois : cherchez raccords chauds ou verts, fils coupés, fuites ; resserrez tout.
        [season] 3/4 Chaque saison : essayez le disjoncteur, la corde, le flotteur ; puis : essai 75 l 40 s 3 m
        [replace] 4/4 Moins d'eau qu'avant ? Filtre, fuites, puis balais neufs ou pompe neuve.
    }
help = { $step ->
       *[begin] Envoyez : hauteur 3 tuyau 30 panneau 3x100 jardin 900 (m, m, W, m2). Simple guide : les règles locales et l'électricien agréé passent d'abord.
        [words] Mots : suite, prix, changer, soleil, quand, essai, installer, entretien, rappel, nouveau, personne, stop, start, oublier.
        [fields] Un mot seul vous explique : hauteur étiage tuyau diamètre panneau pose pompe aspiration puits jardin culture sol mois arrosage câble lieu.
    }

# Menus of a screen; a digit stands before each line.
menu = { $menu ->
       *[home] Pompe solaire et jardin
        [other] Autres
        [answered] Votre réponse
        [languages] Langue
        [stopped] Vous ne recevez plus de messages.
    }
choice = { $item ->
       *[answer] Arrose-t-elle mon jardin ?
        [new] Nouveau jardin
        [setup] Installer
        [care] Entretenir
        [other] Autres
        [language] Langue
        [person] Parler à quelqu'un
        [stop] Ne plus recevoir
        [start] Recevoir à nouveau
        [yes] Oui
        [no] Non
        [more] Suite
        [change] Que faut-il changer
        [cost] Le prix
        [back] Retour
    }
    .tiny = { $item ->
       *[answer] Mon jardin
        [new] Nouveau
        [setup] Installer
        [care] Entretenir
        [other] Autres
        [language] Langue
        [person] Une personne
        [stop] Arrêter
        [start] Reprendre
        [yes] Oui
        [no] Non
        [more] Suite
        [change] Changer
        [cost] Prix
        [back] Retour
    }
no-such-choice = Tapez un numéro de la liste.
also-by-sms = Envoyé aussi par SMS.
busy = Trop de demandes en ce moment. Rappelez dans une minute, s'il vous plaît.
stopped = Vous ne recevrez plus de messages. Envoyez start pour revenir.
started = Bon retour. Envoyez : hauteur 3 tuyau 30 panneau 3x100 jardin 900
handed-over = Une personne du service va lire ceci et vous répondre.
handed-back = Vous écrivez de nouveau au programme. Envoyez { $word } si vous avez besoin de nous.
forget-sure = Effacer tout ce que je garde sur vous ? Envoyez oui pour effacer.
kept = Rien n'est effacé.
forgotten = Tout est effacé. Pour recommencer, envoyez : hauteur 3 tuyau 30 panneau 3x100 jardin 900

poor-day = { $hours } h d'eau par jour ; un mauvais jour { $water } m3.
    .tiny = { $hours } h/jour ; mauvais jour { $water } m3.
noon = Grand midi : { $flow } l/min, { $loss } m perdus dans le tuyau de { $bore } mm.
    .tiny = Midi { $flow } l/min.
wire = Câble { $metres } m : { $size } mm2, disjoncteur DC { $breaker } A (un AC peut ne pas couper l'arc ; il ne protège pas une pompe bloquée).
    .tiny = Câble { $size } mm2, disjoncteur DC { $breaker } A ; pompe bloquée non protégée.
wire-no-breaker = Câble { $metres } m : { $size } mm2. Trop de courant pour un seul disjoncteur : partagez en deux.
    .tiny = Câble { $size } mm2 ; trop de courant pour un disjoncteur : partagez.
string-fuse = Un fusible de { $fuse } A par chaîne.
    .tiny = Fusible/chaîne { $fuse } A.

# Un essai du seau : $percent de l'eau attendue, $flow en litres par minute.
test-judged = { $health ->
       *[healthy] Essai : { $flow } l/min, { $percent } % de l'attendu : la pompe va bien.
        [check] Essai : { $flow } l/min, seulement { $percent } % de l'attendu. Filtre, fuites, panneaux propres et bien tournés, puis nouvel essai.
        [fault] Essai : { $flow } l/min, seulement { $percent } % de l'attendu : une panne. Voyez balais, turbine, raccords, fils ; la hauteur est-elle juste ?
    }
    .tiny = { $health ->
       *[healthy] Essai { $percent } % : pompe en forme.
        [check] Essai { $percent } % : filtre, fuites, panneaux, puis nouvel essai.
        [fault] Essai { $percent } % : panne. Balais, turbine, raccords, fils, hauteur ?
    }
test-not-used = Essai gardé, pas utilisé : { $flow } l/min font { $percent } % de cette pompe. Mesurez encore litres, secondes et mètres.
    .tiny = Essai pas utilisé ({ $percent } %) : mesurez encore litres, secondes, mètres.
test-cloudy = Sous les nuages je ne peux pas juger. Essayez en plein soleil vers midi.
test-low-sun = Le soleil était trop bas. Essayez vers midi, ou envoyez aussi l'heure (essai 75 l 40 s 3 m 11:30).
test-nothing-expected = Selon l'étiquette la pompe ne donne rien à { $outlet } m à cette heure. { $outlet } m, est-ce juste ? Renvoyez l'essai.
test-taken = Compris : { $time }, ciel { $sky }, sortie à { $outlet } m.
    .tiny = { $time }, { $sky }, { $outlet } m.
test-how = { $step ->
       *[bucket] En plein soleil vers midi remplissez un seau au bout du tuyau, chronométrez. Envoyez : essai 75 l 40 s 3 m 11:30
        [heights] Deux essais, le bout tenu à deux hauteurs (2 m et 4 m sur l'eau) : je connais alors votre pompe. Dites voilé ou nuageux s'il le faut.
    }
own-numbers = { $tests ->
        [one] D'après votre essai.
       *[other] D'après vos { $tests } essais.
    }
    .tiny = { $tests ->
        [one] Votre essai.
       *[other] Vos { $tests } essais.
    }
suction-too-high = Pompe trop haut sur l'eau : ici elle aspire { $metres } m au plus. Mettez-la plus bas.
    .tiny = Pompe trop haut : { $metres } m au plus ici.

# Les trois poses du jour ; $percent est la lumière gagnée sur la pose à plat.
stances = { $month } : jusqu'à { $turn } { $first } ; puis { $second } ; dès { $again } { $third }. { $percent } % de lumière en plus qu'à plat.
    .tiny = { $month } : à { $turn } { $first }, puis { $second }, dès { $again } { $third } : +{ $percent } %.
facing = { $point ->
       *[north] face au nord, { $tilt } degrés
        [north_east] face au nord-est, { $tilt } degrés
        [east] face à l'est, { $tilt } degrés
        [south_east] face au sud-est, { $tilt } degrés
        [south] face au sud, { $tilt } degrés
        [south_west] face au sud-ouest, { $tilt } degrés
        [west] face à l'ouest, { $tilt } degrés
        [north_west] face au nord-ouest, { $tilt } degrés
        [up] à plat
    }
    .short = { $point ->
       *[north] nord { $tilt } degrés
        [north_east] nord-est { $tilt } degrés
        [east] est { $tilt } degrés
        [south_east] sud-est { $tilt } degrés
        [south] sud { $tilt } degrés
        [south_west] sud-ouest { $tilt } degrés
        [west] ouest { $tilt } degrés
        [north_west] nord-ouest { $tilt } degrés
        [up] à plat
    }
    .tiny = { $point ->
       *[north] N { $tilt }
        [north_east] NE { $tilt }
        [east] E { $tilt }
        [south_east] SE { $tilt }
        [south] S { $tilt }
        [south_west] SO { $tilt }
        [west] O { $tilt }
        [north_west] NO { $tilt }
        [up] à plat
    }
good-hours = Bon débit par beau temps en { $month } : de { $from } à { $to }.
    .tiny = Bon débit { $month } { $from }-{ $to }.
interval = { $often ->
       *[days] Arrosez { $crop } sur { $soil } tous les { $days } jours, { $litres } l par m2.
        [daily] Arrosez { $crop } sur { $soil } chaque jour, { $litres } l par m2.
    }
    .tiny = { $often ->
       *[days] Tous les { $days } jours { $litres } l/m2.
        [daily] Chaque jour { $litres } l/m2.
    }
interval-soil-taken = { $often ->
       *[days] Arrosez { $crop } tous les { $days } jours, { $litres } l par m2 (sol { $soil } supposé ; envoyez le vôtre : sol argile).
        [daily] Arrosez { $crop } chaque jour, { $litres } l par m2 (sol { $soil } supposé ; envoyez le vôtre : sol argile).
    }
    .tiny = { $often ->
       *[days] Tous les { $days } jours { $litres } l/m2 ({ $soil }).
        [daily] Chaque jour { $litres } l/m2 ({ $soil }).
    }

reminders-set = Je vous rappelle : { $list }. Pour finir : rappel non
    .tiny = Rappels : { $list }. Fin : rappel non
reminder = { $kind ->
       *[brushes] voir les balais, { $date }
        [low_water] étiage, { $date }
    }
    .tiny = { $kind ->
       *[brushes] balais { $date }
        [low_water] étiage { $date }
    }
date = { $day } { $month } { $year }
reminders-off = Plus de rappel pour cela.
no-brushes = Cette pompe a une électronique et pas de balais.
brushes-due = Votre pompe a tourné environ { $hours } heures. Voyez les balais ; trop courts, changez-les. Puis envoyez : rappel pompe. Pour finir : rappel non
    .tiny = Pompe : { $hours } h. Voyez les balais, puis : rappel pompe
low-water-comes = L'eau est au plus bas en { $month }. Mesurez alors et envoyez : étiage 6. Descendez la pompe avec l'eau. Pour finir : rappel non
    .tiny = Eau au plus bas en { $month } : mesurez, envoyez étiage 6

# $month: m1 to m12.
month = { $month ->
       *[m1] janvier
        [m2] février
        [m3] mars
        [m4] avril
        [m5] mai
        [m6] juin
        [m7] juillet
        [m8] août
        [m9] septembre
        [m10] octobre
        [m11] novembre
        [m12] décembre
    }
    .tiny = { $month ->
       *[m1] janv
        [m2] fév
        [m3] mars
        [m4] avril
        [m5] mai
        [m6] juin
        [m7] juil
        [m8] août
        [m9] sept
        [m10] oct
        [m11] nov
        [m12] déc
    }

# Ce qui rendrait l'installation suffisante; $place de 1 à 3.
fix = { $place } : { $what } : { $cost } de plus, arrose { $area } m2.
    .tiny = { $place } : { $what }, +{ $cost }.
fix-saves = { $place } : { $what } : économise { $cost }, arrose { $area } m2.
    .tiny = { $place } : { $what }, gagne { $cost }.
fix-free = { $place } : { $what } : sans frais, arrose { $area } m2.
    .tiny = { $place } : { $what }, gratuit.
fix-no-price = { $place } : { $what } : arrose { $area } m2.
    .tiny = { $place } : { $what }.
change-bore = tuyau { $bore } mm
change-panels = { $count ->
        [one] { $count } panneau
       *[other] { $count } panneaux
    }
change-turned = tourner les panneaux vers le soleil
change-sets = { $count ->
        [one] { $count } pompe avec panneaux et tuyau
       *[other] { $count } pompes, chacune avec panneaux et tuyau
    }
change-wire = fil { $size } mm2
change-watering = arrosage { $watering }
change-garden = jardin { $garden } m2
nothing-to-change = Votre installation suffit : rien à changer.
no-change-helps = Aucun petit changement ne suffit : demandez une personne de la ligne.
cost = Tout le matériel { $first } ; usure par an { $yearly }.
    .tiny = Matériel { $first }, par an { $yearly }.
cost-first = Tout le matériel { $first }.
cost-unknown = Tous les prix ne sont pas connus ici.
petrol = Essence : pompe { $first }, par an { $yearly }.
    .tiny = Essence { $first }, par an { $yearly }.
payback = Après { $months } mois elle a coûté moins que l'essence.
    .tiny = Remboursé en { $months } mois.
payback-at-once = Moins cher que l'essence dès le premier jour.
    .tiny = Moins cher que l'essence.
no-price = Pas de prix pour : { $parts }.
proposal = Achetez { $panels } W de panneaux, pompe { $volts }V { $flow } l/h, tuyau { $bore } mm, fil { $wire } mm2, { $breaker } : { $cost }.
    .short = Achetez { $panels } W, pompe { $volts }V { $flow } l/h, tuyau { $bore }, { $breaker } : { $cost }.
    .tiny = Prenez { $panels } W, pompe { $volts }V { $flow } l/h, tube { $bore }, { $breaker } : { $cost }.
proposal-no-price = Achetez { $panels } W de panneaux, pompe { $volts }V { $flow } l/h, tuyau { $bore } mm, fil { $wire } mm2, { $breaker }.
    .tiny = Achetez { $panels } W, pompe { $volts }V { $flow } l/h, tuyau { $bore }, { $breaker }.
# The $breaker of a proposal: its amperes, or that none is made so large.
proposal-breaker = disjoncteur DC { $breaker } A
    .tiny = disj. DC { $breaker } A
proposal-no-breaker = aucun disjoncteur DC assez fort : demandez un électricien
    .tiny = aucun disjoncteur assez fort
each-pump = Chaque pompe a son tuyau, son fil et son disjoncteur.
    .tiny = Chacune : tuyau, fil, disjoncteur.
no-set = Aucune installation n'arrose autant ici. Envoyez un jardin plus petit, ou personne pour la ligne.

refused-spot = Ce lieu est impossible : envoyez des degrés de -60 à 60 et de -180 à 180, comme : lieu -8,2 35,1
climate-town = Climat de { $town }.
climate-spot = Climat de { $town }, à { $distance } km, ramené à { $altitude } m.
climate-spot-level = Climat de { $town }, à { $distance } km ; altitude prise { $altitude } m.
    .tiny = Climat de { $town }, à { $distance } km.
climate-rough = Chiffres INCERTAINS : le climat connu le plus proche est { $town }, à { $distance } km et { $altitude } m. Une personne vérifiera.
    .short = INCERTAIN : climat de { $town }, { $distance } km. Une personne vérifiera.
    .tiny = INCERTAIN : climat à { $distance } km, on vérifiera.

# Essais gardés mais pas utilisés, et un essai qu'une seconde décide.
test-again = Essai : { $flow } l/min, { $percent } % de l'attendu, plus que l'étiquette. Mesurez encore : deux essais pareils et je le crois.
    .tiny = Essai { $percent } % : plus que l'étiquette. Mesurez encore.
test-unsure = Essai : { $flow } l/min, { $percent } % de l'attendu : une seconde décide. Remplissez 5 seaux d'un coup, envoyez litres et secondes.
    .tiny = Essai { $percent } % : une seconde décide. Chronométrez 5 seaux.
test-short = Moins de 30 s, c'est court : la prochaine fois, 5 seaux d'un coup.
    .tiny = Court : faites 5 seaux.
new-pump = Pompe neuve : les essais de l'ancienne ne comptent plus.
    .tiny = Pompe neuve, anciens essais ôtés.
is-new-pump = Est-ce une pompe neuve avec la même étiquette ? Envoyez oui si elle est neuve, non si c'est celle de l'essai.
untested = Essai retiré.
no-test = Il n'y a pas d'essai à retirer.
