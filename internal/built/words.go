package built

// The words that people use, by what they mean. A word that ends in * stands for all that
// begin so. A word may have several meanings; what a sentence means comes of which
// meanings stand together in it (see hearing.go).
var meanings = map[string]string{
	"fast":      "fast* quick* whizz* whiz* zoom* mad madly race* racing hurtl* rapid* rocket* blur* crazy dizzy wild* manic swift* brisk* breakneck frantic* furious* hectic gallop* dash* dart* bolt* tear tearing hurry hurri* rush* shoot* shot sped speedy speeding supersonic lightning turbo",
	"slow":      "slow* crawl* sluggish* snail* dawdl* lazy ages feeble* weak* creep* plod* trundl* tired lame lethargic leisurely tortoise drag* laborious* labour* strugg* limp* poor poorly lack* underpowered gentle gently half-hearted treacle puff pathetic",
	"not":       "not no never wont dont doesnt didnt isnt arent cant cannot couldnt hardly barely nothing nowt none stays stay stayed stands stand still refuses refuse fails fail stuck without unable stopped stops stop neither nor unwilling declin* scarcely seldom rarely unmoved immobile stationary frozen stalled stall stalls motionless",
	"move":      "move* moving turn* go goes going gone went spin* spun rotat* run* ran start* work* budge* stir* happen* respond* drive* travel* roll* does do anything revolv* advance* proceed* progress* shift* react* operat* function* drove driving whirl* twirl* circl*",
	"wrong":     "wrong backward* reverse* opposite backwards anticlockwise counterclockwise reversed reversing back-to-front inverted contrary mirror",
	"way":       "way direction ways round",
	"direction": "direction way clockwise anticlockwise",
	"hum":       "hum* buzz* whin* groan* moan* drone* growl* purr* whirr* mutter* murmur* trying tries grunt*",
	"half":      "half third quarter",
	"rate":      "fast speed turns quick* as many",
	"strain":    "strain* labour* strugg* slog* slogging effort laborious*",
	"push":      "push* nudge* shov* poke* prod* finger hand twirl* flick* tap* jog* jolt* help* assist* boost* tug*",
	"motor":     "motor* engine*",
	"spin":      "spin* spun turn* run* ran go goes going whirr* whir* whizz* rac* round works work* rotat*",
	"wheel":     "wheel* tyre* tire tires wheels castor*",
	"band":      "band* elastic* rubber belt* loop elastics bands rubber-band",
	"pulley":    "pulley* disc* disk* pulleys sheave* reel* cog*",
	"axle":      "axle* rod rods stick sticks dowel* shaft* skewer* spindle* pole poles bar bars mast needle needles",
	"slip":      "slip* skid* slid* squeak* squeal* screech* slither* glide* slipp* squelch* scrabbl* skate* lose* loses losing grip*",
	"jump":      "jump* ping* pop pops popped popping hop hops leap* bounc* sling* slung thrown throws throw flip* fling* flung shoot* spring* sprang catapult* escape* unhook* dislodg* derail* detach*",
	"comes":     "com* came fall* fell fly* flies flew keep* kept wander* run* slip* work* walk* get* drop*",
	"off":       "off out",
	"climb":     "climb* rides ride riding rode crawl* walk* creep* wander*",
	"up":        "up side edge rim top over",
	"jerk":      "jerk* jolt* judder* thump* bump* lurch* hiccup* stutter* twitch* uneven* pulsat* knock* clunk* tick* limps limping hesitat* clonk* stall* jog jogs hitch* stagger* spasm* bob* bobs hop hops catch* stick* snag* kick* wallop* thud* bang* jar jars jarring shudder* staccato irregular",
	"turnwise":  "once every each turn time per rev revolution",
	"rub":       "rub rubs rubbed rubbing scrap* scratch* catch* caught grind* grat* graz* brush* touch* scuff* chaf* scour* rasp* drag* foul* hit* hits knock* scor* sand* clip clips clipping",
	"rattle":    "rattl* clatter* clank* vibrat* loud noisy racket buzz* chatter* jangl* jingl* din bang* shak* rumbl* tap* click* clack* judder*",
	"noise":     "noise* sound* hear",
	"wobble":    "wobbl* sway* shak* totter* waggl* wonky shimm* rock rocks rocked rocking quiver* waver* reel* lurch* teeter* wag* wags swing* jiggl* tremble* flap* flaps out-of-true eccentric lopsided",
	"hot":       "hot smell* smok* burn* warm* stink* melt* heat* smelt whiff fumes scorch* toasty boil* scald* sizzl* singe* burnt acrid smoulder* smoking",
	"battery":   "batter* cell cells holder accumulator* pack box",
	"wear":      "lesson* week* day* yesterday month* gradual* daily monday tuesday wednesday thursday friday term session* fortnight weeks days morning* afternoon* times lately since",
	"slower":    "slower slow* worse weaker less slowed slowing worsen* dwindl* deteriorat* declin* weaken* flag* flagging",
	"others":    "others other group* everybody everyone rest else team* neighbour* theirs classmates everyones everybodys table* ours neighbours twin* rival* class competitors friend* partner* next",
	"floor":     "floor* carpet ground lino road hall playground table tiles vinyl tabletop desk* rug* mat mats wood* parquet concrete surface*",
	"spinout":   "spin* spun wheelspin* slip* skid* grip*",
	"wheelsp":   "wheelspin* wheelspins",
	"cord":      "cord* string* thread* rope* twine line yarn wool* cable* fishing",
	"drum":      "drum* reel* spool* bobbin* winch* roller* cylinder* barrel* roll cotton",
	"load":      "load* weight* mass bucket hook gram* g kg passenger* roundabout carousel figures people top heavy seats ride cargo burden basket* pail* box* marble* person riders rider dolls doll lump* stone* coins",
	"straight":  "straight",
	"curve":     "curve* curv* veer* swerv* drift* circle* sideways steer* pulls bend* bends crab* arc arcs turns off-course crooked* spiral* lists slew* loop*",
	"slack":     "slack* sag* loose* floppy limp hang* droop* baggy dangl* flopp* long stretched lank soft flabby relaxed undone",
	"break":     "snap* broke* break* tear* tore torn split* bust* rip* ripped burst* part parts parted shatter* perish* crack* fray* frays",
	"dead":      "dead nothing lifeless kaput silent silence nowt",
	"lying":     "lying lies fallen",
	"instead":   "instead swap* swop* substitut* borrow* replac* find found lost spare",
	"lean":      "lean* twist* tip* tilt* shift* loosen* rotat* swivel* pivot* slide* slid* creep* move* tip tips cant cants slew*",
	"wiggle":    "wiggl* jiggl* intermittent* flicker* sometimes waggl* cuts cutting wire wires",
	"again":     "again sometimes cuts cutting out on",
	"stiff":     "stiff* tight* bind* jam* seiz* hard hardly difficult heavy rigid* sticky stuck jammed wedged solid effort force* rust* unyielding resist* taut guitar violin fiddle bowstring twang*",
	"byhand":    "hand finger fingers turn twist",
	"back":      "back down drop* fall* unwind* unwinds plummet* sink* lower* roll* descend* plunge* slump* return* fell falls unroll* crash*",
	"switch":    "switch* switched off stop* let",
	"down":      "down downwards downhill bottom fall* falling descend* lower*",
	"upward":    "up upwards uphill climb* rise* rising raise* top ascend* lift*",
	"start":     "start* first begin* beginning fine well ok okay good lovely initially begins outset launch* lively strong*",
	"then":      "then after gradually until while minute* later soon seconds eventually finally before gives",
	"without":   "without empty unloaded alone bare unladen nobody noone lightly light removed",
	"with":      "with when put loaded full on load* aboard board add* added weigh*",
	"cross":     "cross* figure eight itself",
	"dust":      "dust* itself rub rubs rubbed rubbing black wears crumb* crumbs powder* shred* bits smear*",
	"oneway":    "one",
	"other":     "other",
	"wind":      "wind* wound wraps wrap* runs comes goes coil* spool* pile* piles reel*",
	"end":       "end edge side off",
	"knot":      "knot* tied tie ties tying join* splice* staple* seam*",
	"oily":      "oil oiled oily grease* greasy polish* lubricat* wax waxed paint* wet damp glue glued dusty talc* chalk* slippery varnish* soap* butter* sweat*",
	"wire":      "wire wires lead leads switch contact* connect* connection* solder* clip clips terminal* crocodile",
	"faulty":    "loose undone broken broke came come off disconnect* dodgy faulty corrod* rusty dirty wiggle* jiggle* waggle* touch* hold hang* snapped",
	"bare":      "bare touch* short shorted shorting spark* metal",
	"aged":      "old perish* crack* brittle aged worn dried dry rotten rotted split* tired weathered",
	"fresh":     "new fresh changed replaced brand charged",
	"play":      "play slop slop* sloppy jiggl* waggl* wiggl* loose rattl* wide roomy oversize*",
	"hole":      "hole holes bearing bearings bush bushes straw straws",
	"askew":     "askew crooked aslant slant* skew* square parallel angle squint squiff* diagonal* tilted",
	"wide":      "wide fat thick broad chunky",
	"forward":   "forward forwards ahead clockwise",
	"fine":      "fine ok okay good well great strong happily happy lovely perfect brilliant better quick fast",
	"poor":      "poor feeble weak slow slower bad badly worse sluggish rubbish terrible hopeless no hardly barely struggl* pathetic crawl*",
	"take":      "take takes took taken taking remove* unhook* without slip* lift*",
	"heavy":     "heavy heavier heaviest weighs weight weighted overload* fat",
	"side":      "side seat gondola arm end half cabin pod basket",
	"same":      "same always one",
	"hear":      "hear heard hears hearing",
	"smooth":    "smooth smoothly even evenly steady steadily",
	"low":       "low lower lowered deep deeper sad sadly dull lazy lazily tired quieter growl* groan* grumbl* mournful",
	"high":      "high higher shrill scream* shriek* howl* whin* screech*",
	"usual":     "normal* usual* same ordinary should right alright",
	"size":      "size sized bigger smaller larger biggest diameter big small different wrong other",
	"swapped":   "swap* swop* exchang* mixed switched changed wrong places transposed",
	"more":      "more extra three four another additional",
	"fewer":     "fewer missing one less",
	"upside":    "wrong upside reversed backwards round turned flipped",
	"line":      "line lined align* alignment straight offset level",
	"square":    "square parallel",
	"bend":      "bend* bent bow* flex* warp* buckl* curv* arch* deflect* sag* kink*",
}

// small are words that have no meaning here.
const small = ` a about all also am an and any are as at be because been being big bit by can did does each even ever every for from get gets got had has have
 he her his how i if in into is it its just like little lot lots me my near now of on only or our really s same see she should small so some soon than that the their
 them there these they thing things this those to too try tried us very was we what when where which while who why will would you your it's much more most
 theres thats weve ive youve im were theyre hes shes whats goes quite bits child children class model our ours switch press button week works red blue green yellow please think looks look seems seem want wants
`

// common are words that are no slip of another, and are not read as one.
const common = ` about above across adult afraid after again against agree ahead allow almost alone along already although always among angry animal another answer anyone anything apart
 apple april arrow aside asked august autumn basic beans beautiful because become bedroom before began behind being below beside besides better between beyond birds black
 blame blobs blocks blood board boats books bother bottle bought branch brand bread breath bricks bridge bright bring brother brought brown bucket build building built
 bunch camera cannot cards careful caught cause centre chair chairs chalk chance chapter charge cheap check cheese child children choose church class classroom clean clear
 clever clock close cloth clothes colour common complete concern corner correct could count country couple course cousin cream cupboard dance danger daughter december
 design diary different dinner doctor doing doubt dozen drawer drawing drawn dream dress drink during early earth easter eight either eleven empty enough equal evening
 every everything exact exactly example except expect explain extra faces facing family famous father february field fifteen fifth fifty figure finally finish finished
 first fixing flame flour flower follow fourth fresh friday front fruit funny further garden general giant girls given glass glasses going grams great green group groups
 guess guide hands happen happy hello hidden holding holiday holidays horse horses hours house houses hundred husband important inches indeed indoors january kilos kitchen
 knife known label ladder large later laugh leave lesson letter letters level light lights listen little local lovely lucky lunch machine making march marks match matches
 material maths maybe meant measure measured meets mention metal metre metres middle might minus mirror model models moment month months morning mother mouth muddled music
 names narrow nature nearly needed needs neighbour nicely nobody normal north nothing notice november number nurse october often older orange order ordinary outside
 painted pairs paper parents party pencil people perhaps person phone photo picture piece pieces place places plain planks planned plans plant plastic plate please plenty
 pocket points possible pretty problem project pupil pupils purple quarter queen question quiet quite raising rather reach ready really reason right river roast rocket
 rough round ruler sadly sandwich saturday school science scissors second secret seems september serve seven seventh several shape sheet shelf shiny shirt shoes shorts
 shout sister simple single sixth skirting sleep somebody someone something sometimes somewhere sorry sounds south space spare special speech spent sports square stage stairs start
 station still stone story strange straw street student students sudden suddenly summer sunday sunny supposed surface sweets swoops table tables taken teacher teachers
 thank thanks their themselves there these thick thing things think third thirty those though thought three through thursday today together tomorrow tonight tools touch
 tower trains travel treat trees triangle tried trouble trousers truck trust tuesday turns twelve twenty twice under understand unless until upset upstairs useful using
 usual usually video village visit voice waiting walls wanted wants washing watch water wednesday weeks weird whatever where whether which whole whose windows winter
 without woman women wonder words world worry worse would write writing wrote yanks years yellow yesterday young `
